using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A whole line: what it does in full, and its names and numbers in a line each.</summary>
internal static class LineExplainer
{
    public static Explanation? Explain(ExplainContext context)
    {
        LineSyntax syntax = context.Syntax;
        TextSpan span = syntax.CodeSpan;
        if (span.Length == 0)
            return null;
        int main = syntax.OperationToken >= 0 ? syntax.OperationToken : syntax.LabelToken;
        Explanation? whole = main >= 0 ? Explainer.Token(context, main) : null;
        var text = new MarkdownText();
        if (whole is not null)
            text.Paragraph(whole.Markdown);
        bool isConfiguration =
            syntax.OperationToken >= 0 && ConfigurationExplainer.IsAbout(context, syntax.OperationToken);
        if (!isConfiguration)
            Parts(context, text, main);
        string markdown = text.ToString();
        return markdown.Length == 0 ? null : new Explanation(markdown, span);
    }

    private static void Parts(ExplainContext context, MarkdownText text, int main)
    {
        var said = new HashSet<string>(StringComparer.Ordinal);
        bool isFirst = true;
        int end = -1;
        for (int i = 0; i < context.Syntax.EndOfCode; i++)
        {
            SyntaxToken token = context.Syntax.Tokens[i];
            if (i == main || token.Start < end)
                continue;
            if (
                token.Kind
                is not (TokenKind.Name or TokenKind.Number or TokenKind.Character or TokenKind.Text or TokenKind.Here)
            )
                continue;
            if (Explainer.Token(context, i) is not { } part)
                continue;
            end = part.Span.End;
            string first = FirstLine(part.Markdown);
            if (!said.Add(first))
                continue;
            if (isFirst)
                text.Paragraph("In this line:");
            isFirst = false;
            text.Bullet(first);
        }
    }

    private static string FirstLine(string markdown)
    {
        int end = markdown.IndexOf('\n', StringComparison.Ordinal);
        return end < 0 ? markdown : markdown[..end];
    }
}
