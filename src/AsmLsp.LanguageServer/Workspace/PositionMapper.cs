using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// Translates between places on the wire, in the negotiated way of counting, and places in a text. Positions outside
/// the text are moved to the nearest one inside.
/// </summary>
internal sealed class PositionMapper(ColumnEncoding encoding)
{
    public LinePosition ToLinePosition(SourceText text, Position position)
    {
        if (position.Line >= text.LineCount)
        {
            int last = text.LineCount - 1;
            return new(last, text[last].Text.Length);
        }

        return new(position.Line, Columns.FromClient(text[position.Line].Text, position.Character, encoding));
    }

    public int ToOffset(SourceText text, Position position) => text.OffsetAt(ToLinePosition(text, position));

    /// <summary>The stretch of a range; one whose end comes first is turned around.</summary>
    public TextSpan ToSpan(SourceText text, LspRange range)
    {
        int start = ToOffset(text, range.Start);
        int end = ToOffset(text, range.End);
        return start <= end ? TextSpan.FromBounds(start, end) : TextSpan.FromBounds(end, start);
    }

    public Position ToPosition(SourceText text, LinePosition position)
    {
        int line = Math.Clamp(position.Line, 0, text.LineCount - 1);
        return new(line, Columns.ToClient(text[line].Text, position.Column, encoding));
    }

    public Position ToPosition(SourceText text, int offset) => ToPosition(text, text.PositionAt(offset));

    public LspRange ToRange(SourceText text, TextSpan span) =>
        new(ToPosition(text, span.Start), ToPosition(text, span.End));

    /// <summary>A range within one line, by its UTF-16 columns.</summary>
    public LspRange ToRange(SourceText text, int line, int column, int endColumn) =>
        new(ToPosition(text, new LinePosition(line, column)), ToPosition(text, new LinePosition(line, endColumn)));

    /// <summary>Edits of a text as the client is to carry them out.</summary>
    public LspTextEdit[] ToEdits(SourceText text, IEnumerable<TextEdit> edits) =>
        [.. edits.Select(edit => new LspTextEdit(ToRange(text, edit.Span), edit.NewText))];
}
