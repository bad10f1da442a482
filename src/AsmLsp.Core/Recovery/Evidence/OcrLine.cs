using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>How clearly the characters of a line of the source were read from the picture of its printed line, or lines.</summary>
internal sealed class OcrLine
{
    /// <summary>The clarity of a character whose shape on the page proves it.</summary>
    public const float Proved = (float)OcrCharacter.Proved;

    // Nobody knows how clearly the characters of a paste were read: what it takes for each other counts, and no more.
    private const float Pasted = 0.99f;

    private readonly string shapes;
    private readonly float[]? confidences;
    private bool isPasted;
    private int next;

    private OcrLine(string text, float[]? confidences) =>
        (Text, shapes, this.confidences) = (text, GlyphConfusion.Shapes(text), confidences);

    /// <summary>What was read, the lines joined by blanks.</summary>
    public string Text { get; }

    /// <summary>Whether each character is known to be in its cell: then none can be missing within a word.</summary>
    public bool IsOnGrid { get; private init; }

    /// <summary>Whether its letters are of different widths, so that none has a cell of its own; false where nobody knows, as below somebody's scan.</summary>
    public bool IsOffGrid { get; private init; }

    /// <summary>Whether all ink of its code is that of the characters that were read: nothing was passed over, be the letters of different widths.</summary>
    public bool IsWhole { get; private init; }

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
            unknown = false,
            whole = true;
        foreach (PrintedLine line in printed)
        {
            any |= line.IsOcr;
            all &= line.CharacterConfidences.Length == line.Text.Length;
            onGrid &= line.IsMonospaced;
            whole &= line.HasAllInk;
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
            // Nothing is known of the letters of a paste: what is missing within a word shows in no other way either.
            IsOnGrid = (all && (onGrid || whole)) || printed.All(static p => p.IsPasted),
            IsOffGrid = all && !onGrid && !whole,
            IsWhole = whole,
            isPasted = printed.All(static p => p.IsPasted),
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
        if (isPasted)
            return word.Select(static _ => Pasted).ToArray();
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
