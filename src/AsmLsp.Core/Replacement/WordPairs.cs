using AsmLsp.Core.Assembly;

namespace AsmLsp.Core.Replacement;

/// <summary>A word of the old program and the one that takes its place.</summary>
/// <param name="Old">Its old address.</param>
/// <param name="New">Its new address.</param>
/// <param name="OldWord">The old word.</param>
/// <param name="NewWord">The new word.</param>
/// <param name="OldLine">The line of the root source that it comes from, or -1.</param>
internal readonly record struct WordPair(int Old, int New, ushort OldWord, ushort NewWord, int OldLine);

/// <summary>The words of both programs side by side: all but those of inserted lines, in the order of their addresses.</summary>
internal sealed class WordPairs
{
    private const int EndOfProgram = 0x2000;

    private WordPairs(List<WordPair> pairs, int inserted, bool isComplete)
    {
        Pairs = pairs;
        Inserted = inserted;
        IsComplete = isComplete;
        NewOf = pairs.ToDictionary(static p => p.Old, static p => p.New);
    }

    public List<WordPair> Pairs { get; }

    /// <summary>How many words the inserted lines made.</summary>
    public int Inserted { get; }

    /// <summary>Whether every old word has its place.</summary>
    public bool IsComplete { get; }

    public Dictionary<int, int> NewOf { get; }

    public static WordPairs Of(ProgramAnalysis before, ProgramAnalysis after, ReplacementDraft draft)
    {
        var old = before.Image.Words.Where(static w => w.Address < EndOfProgram).ToList();
        var now = new List<(int Address, ushort Word, WordOrigin Origin)>();
        int inserted = 0;
        foreach ((int address, ushort word, WordOrigin origin) in after.Image.Words)
        {
            if (address >= EndOfProgram)
                break;
            if (origin.Via is null && origin.File.Name == draft.File.Name && draft.OldLine(origin.Line) < 0)
                inserted++;
            else
                now.Add((address, word, origin));
        }

        var pairs = new List<WordPair>();
        bool isComplete = old.Count == now.Count;
        for (int i = 0; i < Math.Min(old.Count, now.Count); i++)
        {
            (SourceFileLine oldPlace, SourceFileLine newPlace) = (PlaceOf(old[i].Origin), PlaceOf(now[i].Origin));
            int oldLine = oldPlace.File == draft.File.Name ? oldPlace.Line : -1;
            int newLine = newPlace.File == draft.File.Name ? draft.OldLine(newPlace.Line) : -1;
            isComplete &= oldLine == newLine;
            pairs.Add(new WordPair(old[i].Address, now[i].Address, old[i].Word, now[i].Word, oldLine));
        }

        return new WordPairs(pairs, inserted, isComplete);
    }

    private static SourceFileLine PlaceOf(WordOrigin origin)
    {
        (Text.SourceFile file, int line) = origin.Outermost;
        return new SourceFileLine(file.Name, line);
    }

    private readonly record struct SourceFileLine(string File, int Line);
}
