namespace AsmLsp.Core.Text;

/// <summary>A stretch of characters (UTF-16 code units), by its first offset and its length; both are at least 0.</summary>
public readonly record struct TextSpan(int Start, int Length)
{
    /// <summary>The offset after the last character.</summary>
    public int End => Start + Length;

    /// <summary>Makes a span from its first offset and the offset after its end.</summary>
    public static TextSpan FromBounds(int start, int end) => new(start, end - start);

    /// <summary>Whether an offset lies in the span or directly after its end, where a caret touches it.</summary>
    public bool Touches(int offset) => offset >= Start && offset <= End;

    /// <summary>Whether two spans share a character, or touch where one of them is empty.</summary>
    public bool Overlaps(TextSpan other) =>
        Length == 0 || other.Length == 0
            ? Start <= other.End && other.Start <= End
            : Start < other.End && other.Start < End;
}
