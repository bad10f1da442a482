using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>The choices (<c>if</c> ... <c>endif</c>) that are open at a line.</summary>
internal sealed class ConditionStack
{
    private readonly List<Choice> open = [];
    private readonly List<LeftOutPart> leftOut = [];

    /// <summary>The parts that choices left out, in the order in which they ended.</summary>
    public IReadOnlyList<LeftOutPart> LeftOut => leftOut;

    /// <summary>
    /// The names that would lead to another branch than the one at hand: those that were asked for above an 'else', or
    /// by an 'ifndef', without being defined.
    /// </summary>
    public IReadOnlyList<string> Deciders
    {
        get
        {
            var names = new List<string>();
            foreach (Choice choice in open)
                if (choice.IsTaken)
                    foreach ((string name, bool wasAsked) in choice.Asked)
                        if ((choice.HadElse || wasAsked) && !names.Contains(name))
                            names.Add(name);
            return names;
        }
    }

    /// <summary>Whether the line is left out, because a choice around it went the other way.</summary>
    public bool IsSkipping => open.Count > 0 && !open[^1].IsTaken;

    /// <summary>Whether the innermost choice itself is in a part that is left out.</summary>
    public bool IsSkippedAround => open.Count > 0 && !open[^1].IsPossible;

    public int Depth => open.Count;

    /// <param name="place">The place of the word.</param>
    /// <param name="word">The word that opens the choice.</param>
    /// <param name="condition">Whether the first branch counts.</param>
    /// <param name="asked">The names that the condition asks for.</param>
    public void Open(SourcePlace place, string word, bool condition, params IReadOnlyList<string> asked)
    {
        bool outer = !IsSkipping;
        open.Add(
            new Choice(place, word, [.. asked.Select(name => (name, IsNegative(word)))])
            {
                Branch = place,
                Reason = Because(word, asked),

                IsPossible = outer,
                IsTaken = outer && condition,
                WasTaken = outer && condition,
            }
        );
    }

    /// <summary>Turns to the other branch; false where no choice is open or its <c>else</c> has been.</summary>
    public bool TryElse(int floor, SourcePlace place)
    {
        if (open.Count <= floor || open[^1].HadElse)
            return false;
        Choice choice = open[^1];
        EndBranch(choice, place);
        choice.Reason = $"a condition above is true (line {choice.Branch.Line + 1})";
        if (!choice.WasTaken)
            choice.Reason = "";
        choice.Branch = place;
        choice.HadElse = true;
        choice.IsTaken = choice.IsPossible && !choice.WasTaken;
        choice.WasTaken = true;
        return true;
    }

    /// <summary>Whether an <c>elseif</c> has to look at its condition; null where no choice is open.</summary>
    public bool? WantsElseIf(int floor) =>
        open.Count <= floor || open[^1].HadElse ? null : open[^1].IsPossible && !open[^1].WasTaken;

    public void ElseIf(bool condition, SourcePlace place, params IReadOnlyList<string> asked)
    {
        Choice choice = open[^1];
        EndBranch(choice, place);
        choice.Reason = choice.WasTaken
            ? $"a condition above is true (line {choice.Branch.Line + 1})"
            : Because("", asked);
        choice.Branch = place;
        choice.Asked.AddRange(asked.Select(static name => (name, false)));
        choice.IsTaken = condition;
        choice.WasTaken |= condition;
    }

    public bool TryClose(int floor, SourcePlace place)
    {
        if (open.Count <= floor)
            return false;
        EndBranch(open[^1], place);
        open.RemoveAt(open.Count - 1);
        return true;
    }

    /// <summary>Closes what is open above a depth and says where it was opened.</summary>
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

    private void EndBranch(Choice choice, SourcePlace place)
    {
        SourcePlace start = choice.Branch;
        if (choice.IsPossible && !choice.IsTaken && start.File == place.File && place.Line > start.Line + 1)
            leftOut.Add(new LeftOutPart(start.File, start.Line + 1, place.Line - 1, choice.Reason));
    }

    private static bool IsNegative(string word) => OperationWords.KeywordOf(word) == Keyword.IfNotDefined;

    private static string Because(string word, IReadOnlyList<string> asked)
    {
        return (OperationWords.KeywordOf(word), asked.Count) switch
        {
            (Keyword.IfDefined, > 0) => $"{asked[0]} is not defined",
            (Keyword.IfNotDefined, > 0) => $"{asked[0]} is defined",
            (_, > 0) => $"the condition with {string.Join(" and ", asked)} is false",
            _ => "the condition is false",
        };
    }

    private sealed class Choice(SourcePlace place, string word, List<(string Name, bool IsNegative)> asked)
    {
        /// <summary>The names that its conditions ask for.</summary>
        public List<(string Name, bool IsNegative)> Asked { get; } = asked;

        /// <summary>Where the branch at hand starts.</summary>
        public SourcePlace Branch { get; set; }

        /// <summary>Why it is left out, where it is.</summary>
        public string Reason { get; set; } = "";

        public SourcePlace Place { get; } = place;

        public string Word { get; } = word;

        /// <summary>Whether the choice itself is in a part that is assembled.</summary>
        public bool IsPossible { get; init; }

        public bool IsTaken { get; set; }

        public bool WasTaken { get; set; }

        public bool HadElse { get; set; }
    }
}
