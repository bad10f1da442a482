using AsmLsp.Core.Doubts;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Reading;

/// <summary>What there is to say about the mark of an open doubt: why there is one, what else the line may be, and where it was printed.</summary>
/// <param name="Text">The words, without a picture.</param>
/// <param name="Printed">Where the line was printed; <see cref="LineOrigin.None"/> where that is not known.</param>
public sealed record DoubtHover(Explanation Text, LineOrigin Printed)
{
    /// <summary>The doubt at a place; null where no mark is there.</summary>
    public static DoubtHover? At(SourceText source, LinePosition at)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (at.Line < 0 || at.Line >= source.LineCount)
            return null;
        string line = source[at.Line].Text;
        if (
            DoubtMark.Find(line) is not { } span
            || at.Column < span.Start
            || at.Column > span.End
            || DoubtMark.Read(line) is not { } doubt
        )
            return null;
        var text = new MarkdownText();
        text.Paragraph("**Not checked yet**");
        if (doubt.Words.Length > 0)
            text.Paragraph(MarkdownText.Escape(doubt.Words));
        foreach (string other in doubt.Alternatives)
            text.Bullet(
                other == Doubt.AsComment ? "It may be a comment." : $"It may be {MarkdownText.Code(other.Trim())}."
            );
        if (!doubt.Origin.IsNone)
            text.Paragraph(
                MarkdownText.Escape(doubt.Origin.Page > 0 ? $"Printed on {doubt.Place}." : $"Pasted as {doubt.Place}.")
            );
        return new DoubtHover(new Explanation(text.ToString(), span), doubt.Origin);
    }
}
