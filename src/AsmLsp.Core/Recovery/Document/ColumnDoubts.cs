namespace AsmLsp.Core.Recovery.Document;

/// <summary>
/// Marks where a page may have to be read with another number of text columns: what is printed there is all in the source, and may be in
/// another order. One mark for each run of such lines. A line with code after a wide gap in its comment is marked, too: it was read across two columns, perhaps.
/// </summary>
internal static class ColumnDoubts
{
    private const string Doubt = "one text column here, or two? The lines may belong in another order";

    private const string Across = "the words after the gap read as an instruction of another text column";

    // Comments have gaps of some blanks; between columns is more room.
    private const int LeastGap = 4;

    /// <summary>The lines with the marks.</summary>
    public static List<ListingLine> Mark(List<ListingLine> lines)
    {
        var marked = new List<ListingLine>(lines.Count);
        (int Page, int Column) run = default;
        foreach (ListingLine line in lines)
        {
            bool begins = false;
            if (line.Printed is { HasUncertainColumns: true } printed)
            {
                begins = run != (printed.Page, printed.TextColumn);
                run = (printed.Page, printed.TextColumn);
            }

            string? doubt =
                begins ? Doubt
                : HasCodeBehindGap(line.Text) ? Across
                : null;
            marked.Add(doubt is not null && line.Doubt is null ? line with { Doubt = doubt } : line);
        }

        return marked;
    }

    // Behind the sign itself there may be room in front of a line that was commented out.
    private static bool HasCodeBehindGap(string text)
    {
        int at = text.IndexOf(';', StringComparison.Ordinal);
        if (at < 0)
            return false;
        while (at < text.Length && text[at] is ';' or ' ' or '\t' or '\u00A0')
            at++;
        for (int blanks = 0; at < text.Length; at++)
        {
            if (text[at] is ' ' or '\u00A0')
            {
                blanks++;
                continue;
            }

            if (blanks >= LeastGap && char.IsLetter(text[at]) && IsInstruction(text[at..]))
                return true;
            blanks = 0;
        }

        return false;
    }

    private static bool IsInstruction(string text) =>
        AssemblyLook.IsInstruction(text) && AssemblyLook.Of(text) == Look.Code;
}
