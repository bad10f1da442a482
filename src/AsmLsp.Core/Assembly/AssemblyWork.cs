namespace AsmLsp.Core.Assembly;

/// <summary>
/// What one assembly costs, counted over all its passes: a program of a few lines can ask for work without an end, so
/// every loop, macro and define is paid for here. Counters, not clocks, so that the same program always ends the same.
/// </summary>
internal sealed class AssemblyWork(CancellationToken cancellation)
{
    /// <summary>The most lines that macros, loops and repeated includes may add in one pass.</summary>
    public const int MostExpandedLines = 1_000_000;

    /// <summary>The most characters that substitution may make in one pass.</summary>
    public const int MostCharacters = 16_000_000;

    // Eight passes at the limit above; programs that need more of them are small.
    private const long MostSteps = 8L * MostCharacters;

    // A line costs about as much as so many characters.
    private const int StepsOfLine = 32;

    private int expandedLines;
    private int characters;
    private long steps;

    /// <summary>Whether more was asked for than one assembly may cost.</summary>
    public bool IsExhausted => characters > MostCharacters || expandedLines > MostExpandedLines || steps > MostSteps;

    /// <summary>Steps taken so far in all passes; tests compare its growth with the size of a program.</summary>
    public long Steps => steps;

    public void BeginPass() => (expandedLines, characters) = (0, 0);

    /// <summary>Counts a line of a file.</summary>
    public void Line()
    {
        steps += StepsOfLine;
        cancellation.ThrowIfCancellationRequested();
    }

    /// <summary>Counts a line that is read again, or a turn of a loop; false where that was one too many.</summary>
    public bool TryExpandedLine()
    {
        Line();
        expandedLines++;
        return !IsExhausted;
    }

    /// <summary>Counts text that substitution makes or looks through; false where that was too much.</summary>
    public bool TryCharacters(int count)
    {
        cancellation.ThrowIfCancellationRequested();
        steps += count;
        characters = (int)Math.Min(int.MaxValue, (long)characters + count);
        return !IsExhausted;
    }
}
