using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>How clearly the characters of a line of the source were read from the picture of its printed line, or lines.</summary>
internal sealed class OcrLine
{
    private readonly string shapes;
    private readonly float[]? confidences;
    private int next;

    private OcrLine(string text, float[]? confidences) =>
        (Text, shapes, this.confidences) = (text, GlyphConfusion.Shapes(text), confidences);

    /// <summary>What was read, the lines joined by blanks.</summary>
    public string Text { get; }

    /// <summary>Whether each character is known to be in its cell: then none can be missing within a word.</summary>
    public bool IsOnGrid { get; private init; }

    /// <summary>Whether its letters are of different widths, so that none has a cell of its own; false where nobody knows, as below somebody's scan.</summary>
    public bool IsOffGrid { get; private init; }

    /// <summary>Whether the first of the lines has ink that was not read, up to its comment.</summary>
    public bool HasUnreadCode { get; private init; }

    /// <summary>Whether nobody knows if there is ink that was not read.</summary>
    public bool IsInkUnknown { get; private init; }

    /// <summary>Whether it is known how clearly its characters were read; not so below somebody's scan.</summary>
    public bool IsClarityKnown => confidences is not null;

    /// <summary>The line, or null where none of its printed lines was read from a picture.</summary>
    public static OcrLine? Of(IReadOnlyList<PrintedLine> printed)
    {
        bool any = false,
            all = true,
            onGrid = true,
            unread = false,
            unknown = false;
        foreach (PrintedLine line in printed)
        {
            any |= line.IsOcr;
            all &= line.CharacterConfidences.Length == line.Text.Length;
            onGrid &= line.IsMonospaced;
            unknown |= line.IsInkUnknown;
            int comment = line.Text.IndexOf(';', StringComparison.Ordinal);
            foreach (int column in line.UnreadColumns)
                unread |= comment < 0 || column < comment;
        }

        if (!any)
            return null;
        string text = string.Join(' ', printed.Select(static p => p.Text));
        var confidences = new List<float>();
        foreach (PrintedLine line in printed)
        {
            if (confidences.Count > 0)
                confidences.Add(1);
            confidences.AddRange(line.CharacterConfidences);
        }

        return new OcrLine(text, all ? [.. confidences] : null)
        {
            IsOnGrid = all && onGrid,
            IsOffGrid = all && !onGrid,
            HasUnreadCode = unread,
            IsInkUnknown = unknown,
        };
    }

    /// <summary>
    /// How clearly the characters of the next word of the line were read; empty where the word does not be there as it is written. Words
    /// are asked for from left to right. Where nobody knows, as below somebody's scan, letters count as clear and digits do not:
    /// known words support their letters.
    /// </summary>
    public ReadOnlySpan<float> Clarity(string word)
    {
        if (confidences is null)
            return word.Select(static c => char.IsAsciiDigit(c) ? 0f : 1f).ToArray();
        string wanted = GlyphConfusion.Shapes(word);
        int at = shapes.IndexOf(wanted, next, StringComparison.Ordinal);
        if (at < 0)
            at = shapes.IndexOf(wanted, StringComparison.Ordinal);
        if (at < 0)
            return default;
        next = at + word.Length;
        return confidences.AsSpan(at, word.Length);
    }
}
