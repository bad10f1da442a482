using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>The choices (<c>if</c> ... <c>endif</c>) that are open at a line.</summary>
internal sealed class ConditionStack
{
    private readonly List<Choice> open = [];

    /// <summary>Whether the line is left out, because a choice around it went the other way.</summary>
    public bool IsSkipping => open.Count > 0 && !open[^1].IsTaken;

    /// <summary>Whether the innermost choice itself stands in a part that is left out.</summary>
    public bool IsSkippedAround => open.Count > 0 && !open[^1].IsPossible;

    public int Depth => open.Count;

    public void Open(SourcePlace place, string word, bool condition)
    {
        bool outer = !IsSkipping;
        open.Add(
            new Choice(place, word)
            {
                IsPossible = outer,
                IsTaken = outer && condition,
                WasTaken = outer && condition,
            }
        );
    }

    /// <summary>Turns to the other branch; false where no choice is open or its <c>else</c> has been.</summary>
    public bool TryElse(int floor)
    {
        if (open.Count <= floor || open[^1].HadElse)
            return false;
        Choice choice = open[^1];
        choice.HadElse = true;
        choice.IsTaken = choice.IsPossible && !choice.WasTaken;
        choice.WasTaken = true;
        return true;
    }

    /// <summary>Whether an <c>elseif</c> has to look at its condition; null where no choice is open.</summary>
    public bool? WantsElseIf(int floor) =>
        open.Count <= floor || open[^1].HadElse ? null : open[^1].IsPossible && !open[^1].WasTaken;

    public void ElseIf(bool condition)
    {
        Choice choice = open[^1];
        choice.IsTaken = condition;
        choice.WasTaken |= condition;
    }

    public bool TryClose(int floor)
    {
        if (open.Count <= floor)
            return false;
        open.RemoveAt(open.Count - 1);
        return true;
    }

    /// <summary>Closes what is open above a depth and tells where it was opened.</summary>
    public IReadOnlyList<(SourcePlace Place, string Word)> CloseDownTo(int depth)
    {
        if (open.Count <= depth)
            return [];
        var left = new List<(SourcePlace, string)>();
        for (int i = depth; i < open.Count; i++)
            left.Add((open[i].Place, open[i].Word));
        open.RemoveRange(depth, open.Count - depth);
        return left;
    }

    private sealed class Choice(SourcePlace place, string word)
    {
        public SourcePlace Place { get; } = place;

        public string Word { get; } = word;

        /// <summary>Whether the choice itself is in a part that is assembled.</summary>
        public bool IsPossible { get; init; }

        public bool IsTaken { get; set; }

        public bool WasTaken { get; set; }

        public bool HadElse { get; set; }
    }
}
