using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>Text in double quotes: its characters and their bytes.</summary>
internal static class TextExplainer
{
    private const int MostShown = 16;

    public static Explanation Explain(ExplainContext context, int token)
    {
        string written = context.Syntax.TextOf(token);
        bool closed = written.Length > 1 && written[^1] == '"';
        List<char> inside = Literals.Unescape(written.AsSpan(1, written.Length - (closed ? 2 : 1)));
        TextSpan span = context.Syntax.Tokens[token].Span;
        if (inside.Count == 1)
            return new Explanation(
                $"The character {MarkdownText.Code(written)}: {LiteralExplainer.AllBases(TextEncoding.ToByte(inside[0]) ?? inside[0] & 0xFF)}",
                span
            );
        string count = inside.Count.ToString(CultureInfo.InvariantCulture);
        var text = new MarkdownText().Paragraph(
            $"Text of {count} characters{(closed ? "" : "; its closing quote is missing")}."
        );
        if (inside.Count > 0)
        {
            string bytes = string.Join(
                ' ',
                inside
                    .Take(MostShown)
                    .Select(c =>
                        ((int)(TextEncoding.ToByte(c) ?? c & 0xFF)).ToString("X2", CultureInfo.InvariantCulture)
                    )
            );
            text.Bullet($"Bytes: {MarkdownText.Code(bytes)}{(inside.Count > MostShown ? " ..." : "")}");
        }

        return new Explanation(text.ToString(), span);
    }
}
