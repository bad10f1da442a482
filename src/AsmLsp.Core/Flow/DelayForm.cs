namespace AsmLsp.Core.Flow;

/// <summary>
/// One form of a delay: counters inside each other, counted down by DECFSZ, with cycles put into the innermost loop and after all;
/// without counters cycles alone, or W counted down.
/// </summary>
/// <param name="Counters">The numbers that the counters begin with, the innermost first; 256 is written as 0.</param>
/// <param name="WLaps">Laps of a loop that counts W down, or 0.</param>
/// <param name="Inside">Cycles put into the innermost loop.</param>
/// <param name="After">Cycles put after the loops.</param>
internal sealed record DelayForm(int[] Counters, int WLaps, int Inside, long After)
{
    /// <summary>Laps that a byte can count.</summary>
    public const int MostLaps = 256;

    /// <summary>Words that it takes.</summary>
    public long Words => LoadWords + Fill(Inside) + (WLaps > 0 ? 4 : 2 * Counters.Length) + Fill(After);

    /// <summary>Cycles that it takes.</summary>
    public long Cycles => LoadWords + LoopCycles(Counters, WLaps, Inside) + After;

    /// <summary>Words, and cycles, that load the counters: equal numbers share a MOVLW, 256 is a CLRF.</summary>
    private int LoadWords
    {
        get
        {
            int words = Counters.Length;
            for (int i = 0; i < Counters.Length; i++)
                if (Counters[i] != MostLaps && Array.IndexOf(Counters, Counters[i]) == i)
                    words++;
            return words;
        }
    }

    /// <summary>Words that take so many cycles: a jump to the next word takes two in one.</summary>
    public static long Fill(long cycles) => (cycles + 1) / 2;

    /// <summary>The cycles of the loops alone.</summary>
    public static long LoopCycles(ReadOnlySpan<int> counters, int wLaps, int inside)
    {
        // MOVLW; ADDLW, BTFSS, GOTO are 4 a lap, the last one 3.
        if (wLaps > 0)
            return (4L + inside) * wLaps;
        if (counters.Length == 0)
            return 0;
        // DECFSZ and GOTO are 3 a lap; the last one skips the jump and takes 2.
        long lap = 3 + inside;
        long sum = lap * counters[0] - 1,
            full = lap * MostLaps - 1;
        for (int level = 1; level < counters.Length; level++)
        {
            // Each further lap runs the inner loops through all of their 256.
            sum += (counters[level] - 1L) * (full + 3) + 2;
            full += (MostLaps - 1L) * (full + 3) + 2;
        }

        return sum;
    }

    /// <summary>The lines: operation and operands.</summary>
    /// <param name="names">Names of the counters, the innermost first.</param>
    /// <param name="status">The name or number of STATUS.</param>
    public IEnumerable<(string Operation, string Operands)> Lines(IReadOnlyList<string> names, string status)
    {
        foreach ((string, string) line in Loads(names))
            yield return line;
        if (WLaps > 0)
        {
            yield return ("movlw", Literal(WLaps));
            foreach ((string, string) line in FillLines(Inside))
                yield return line;
            yield return ("addlw", "0xFF");
            yield return ("btfss", $"{status},2");
            yield return ("goto", $"$-{2 + Fill(Inside)}");
        }
        else if (Counters.Length > 0)
        {
            foreach ((string, string) line in FillLines(Inside))
                yield return line;
            long back = Fill(Inside) + 1;
            for (int i = 0; i < Counters.Length; i++, back += 2)
            {
                yield return ("decfsz", $"{names[i]},f");
                yield return ("goto", $"$-{back}");
            }
        }

        foreach ((string, string) line in FillLines(After))
            yield return line;
    }

    private IEnumerable<(string, string)> Loads(IReadOnlyList<string> names)
    {
        foreach (IGrouping<int, int> same in Enumerable.Range(0, Counters.Length).GroupBy(i => Counters[i]))
        {
            if (same.Key != MostLaps)
                yield return ("movlw", Literal(same.Key));
            foreach (int i in same)
                yield return (same.Key == MostLaps ? "clrf" : "movwf", names[i]);
        }
    }

    private static IEnumerable<(string, string)> FillLines(long cycles)
    {
        for (long i = 0; i < cycles / 2; i++)
            yield return ("goto", "$+1");
        if (cycles % 2 == 1)
            yield return ("nop", "");
    }

    private static string Literal(int laps) => $"0x{laps & 0xFF:X2}";
}
