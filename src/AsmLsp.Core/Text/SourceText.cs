using System.Text;

namespace AsmLsp.Core.Text;

/// <summary>
/// A source text: immutable lines, each with its own line end, so that the text is the sum of its lines to the
/// letter. Lines are kept in blocks; an edit makes new blocks only where it touches.
/// </summary>
public sealed class SourceText
{
    private const int BlockLines = 256;

    private readonly Block[] blocks;
    private readonly int[] firstLine;
    private readonly int[] firstOffset;

    private SourceText(Block[] blocks, TextEncoding encoding)
    {
        this.blocks = blocks;
        Encoding = encoding;
        firstLine = new int[blocks.Length + 1];
        firstOffset = new int[blocks.Length + 1];
        for (int i = 0; i < blocks.Length; i++)
        {
            firstLine[i + 1] = firstLine[i] + blocks[i].Lines.Length;
            firstOffset[i + 1] = firstOffset[i] + blocks[i].Length;
        }
    }

    /// <summary>How the bytes of the file were read, and are to be written again.</summary>
    public TextEncoding Encoding { get; }

    /// <summary>Number of lines, at least 1; a text that ends with a line end has an empty last line.</summary>
    public int LineCount => firstLine[^1];

    /// <summary>Number of characters (UTF-16 code units), line ends included.</summary>
    public int Length => firstOffset[^1];

    /// <summary>The line with a number from 0.</summary>
    /// <exception cref="ArgumentOutOfRangeException">There is no such line.</exception>
    public TextLine this[int line]
    {
        get
        {
            int block = BlockOf(firstLine, line);
            return blocks[block].Lines[line - firstLine[block]];
        }
    }

    /// <summary>Makes a text from characters.</summary>
    public static SourceText From(string text, TextEncoding? encoding = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        return new SourceText([.. ToBlocks(Split(text))], encoding ?? TextEncoding.Utf8);
    }

    /// <summary>Offset of a line's first character.</summary>
    public int LineStart(int line)
    {
        int block = BlockOf(firstLine, line);
        return firstOffset[block] + blocks[block].Starts[line - firstLine[block]];
    }

    /// <summary>The place of an offset; an offset outside the text is moved to its nearer end.</summary>
    public LinePosition PositionAt(int offset)
    {
        offset = Math.Clamp(offset, 0, Length);
        int block = offset == Length ? blocks.Length - 1 : BlockOf(firstOffset, offset);
        int within = offset - firstOffset[block];
        int at = Array.BinarySearch(blocks[block].Starts, within);
        if (at < 0)
            at = ~at - 1;
        // An empty last line starts where the one before it ends: the later one is meant.
        while (at + 1 < blocks[block].Starts.Length && blocks[block].Starts[at + 1] <= within)
            at++;
        return new LinePosition(firstLine[block] + at, within - blocks[block].Starts[at]);
    }

    /// <summary>The offset of a place; a place outside the text is moved to the nearest one inside, never after a line's end.</summary>
    public int OffsetAt(LinePosition position)
    {
        if (position.Line < 0)
            return 0;
        if (position.Line >= LineCount)
            return Length;
        return LineStart(position.Line) + Math.Clamp(position.Column, 0, this[position.Line].Text.Length);
    }

    /// <summary>The text with one stretch replaced.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The stretch is not inside the text.</exception>
    public SourceText WithChange(TextSpan span, string newText)
    {
        ArgumentNullException.ThrowIfNull(newText);
        ArgumentOutOfRangeException.ThrowIfNegative(span.Start, nameof(span));
        ArgumentOutOfRangeException.ThrowIfNegative(span.Length, nameof(span));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(span.End, Length, nameof(span));

        int first = PositionAt(span.Start).Line;
        int last = PositionAt(span.End).Line;
        // A lone CR at a border may meet an LF: the neighbors are split anew with the change.
        if (first > 0 && this[first - 1].Ending == "\r")
            first--;
        if (last + 1 < LineCount)
            last++;

        int start = LineStart(first);
        var middle = new StringBuilder();
        for (int i = first; i <= last; i++)
            middle.Append(this[i].Text).Append(this[i].Ending);
        middle.Remove(span.Start - start, span.Length).Insert(span.Start - start, newText);

        List<TextLine> lines = Split(middle.ToString());
        // The piece is followed by more text unless it reaches the end: then its empty last line belongs to what follows.
        if (last + 1 < LineCount)
            lines.RemoveAt(lines.Count - 1);

        int firstBlock = BlockOf(firstLine, first);
        int lastBlock = BlockOf(firstLine, last);
        var touched = new List<TextLine>(lines.Count + 2 * BlockLines);
        for (int i = firstLine[firstBlock]; i < first; i++)
            touched.Add(this[i]);
        // Lines that the change left as they were keep their identity, and with it what was computed for them.
        Reuse(lines, first, last);
        touched.AddRange(lines);
        for (int i = last + 1; i < firstLine[lastBlock + 1]; i++)
            touched.Add(this[i]);

        var result = new List<Block>(blocks.Length + 1);
        result.AddRange(blocks.AsSpan(0, firstBlock));
        result.AddRange(ToBlocks(touched));
        result.AddRange(blocks.AsSpan(lastBlock + 1));
        if (result.Count == 0)
            result.Add(new Block([new TextLine("", "")]));
        return new SourceText([.. result], Encoding);
    }

    /// <summary>The text with several stretches replaced; the spans are those of this text and must not overlap.</summary>
    public SourceText WithEdits(IEnumerable<TextEdit> edits)
    {
        SourceText text = this;
        foreach (TextEdit edit in edits.OrderByDescending(e => e.Span.Start).ThenByDescending(e => e.Span.End))
            text = text.WithChange(edit.Span, edit.NewText);
        return text;
    }

    /// <summary>The same text, to be written with another encoding.</summary>
    public SourceText WithEncoding(TextEncoding encoding) => new(blocks, encoding);

    /// <summary>The characters of a stretch.</summary>
    public string ToString(TextSpan span)
    {
        var text = new StringBuilder(span.Length);
        int line = PositionAt(span.Start).Line;
        int from = span.Start - LineStart(line);
        for (int left = span.Length; left > 0 && line < LineCount; line++, from = 0)
        {
            string full = this[line].Text + this[line].Ending;
            int take = Math.Min(left, full.Length - from);
            text.Append(full, from, take);
            left -= take;
        }

        return text.ToString();
    }

    /// <summary>All characters of the text.</summary>
    public override string ToString()
    {
        var text = new StringBuilder(Length);
        foreach (Block block in blocks)
        foreach (TextLine line in block.Lines)
            text.Append(line.Text).Append(line.Ending);
        return text.ToString();
    }

    /// <summary>All lines in order.</summary>
    public IEnumerable<TextLine> Lines
    {
        get
        {
            foreach (Block block in blocks)
            foreach (TextLine line in block.Lines)
                yield return line;
        }
    }

    /// <summary>The line end that most lines carry ("\n" where there is none).</summary>
    public string UsualEnding
    {
        get
        {
            int lf = 0,
                crlf = 0,
                cr = 0;
            foreach (TextLine line in Lines)
            {
                if (line.Ending == "\n")
                    lf++;
                else if (line.Ending == "\r\n")
                    crlf++;
                else if (line.Ending == "\r")
                    cr++;
            }

            return crlf > lf && crlf >= cr ? "\r\n"
                : cr > lf ? "\r"
                : "\n";
        }
    }

    private void Reuse(List<TextLine> lines, int first, int last)
    {
        for (int i = 0; i < lines.Count && first + i <= last; i++)
        {
            if (!Same(lines[i], this[first + i]))
                break;
            lines[i] = this[first + i];
        }

        for (int i = 1; i <= lines.Count && last + 1 - i >= first; i++)
        {
            if (!Same(lines[^i], this[last + 1 - i]))
                break;
            lines[^i] = this[last + 1 - i];
        }
    }

    private static bool Same(TextLine a, TextLine b) => a.Text == b.Text && a.Ending == b.Ending;

    private static List<TextLine> Split(string text)
    {
        var lines = new List<TextLine>();
        int start = 0;
        for (int i = 0; i < text.Length; i++)
        {
            if (text[i] is not ('\r' or '\n'))
                continue;
            bool pair = text[i] == '\r' && i + 1 < text.Length && text[i + 1] == '\n';
            lines.Add(
                new TextLine(
                    text[start..i],
                    pair ? "\r\n"
                        : text[i] == '\r' ? "\r"
                        : "\n"
                )
            );
            if (pair)
                i++;
            start = i + 1;
        }

        lines.Add(new TextLine(text[start..], ""));
        return lines;
    }

    private static IEnumerable<Block> ToBlocks(List<TextLine> lines)
    {
        for (int i = 0; i < lines.Count; i += BlockLines)
            yield return new Block([.. lines.GetRange(i, Math.Min(BlockLines, lines.Count - i))]);
    }

    private static int BlockOf(int[] firsts, int value)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(value);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(value, firsts[^1]);
        int at = Array.BinarySearch(firsts, value);
        if (at < 0)
            return ~at - 1;
        // Empty blocks do not exist, but equal firsts could: the last of them holds the value.
        while (at + 1 < firsts.Length - 1 && firsts[at + 1] == value)
            at++;
        return at;
    }

    private sealed class Block
    {
        public Block(TextLine[] lines)
        {
            Lines = lines;
            Starts = new int[lines.Length];
            for (int i = 0; i < lines.Length; i++)
            {
                Starts[i] = Length;
                Length += lines[i].FullLength;
            }
        }

        public TextLine[] Lines { get; }

        public int[] Starts { get; }

        public int Length { get; }
    }
}
