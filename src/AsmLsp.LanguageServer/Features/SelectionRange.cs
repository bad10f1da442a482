using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/selectionRange</c>: word, operand, all operands, code, line, routine, section, file.</summary>
internal sealed class SelectionRangeHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { SelectionRangeProvider = true });
        registry.Request<SelectionRangeParams, SelectionRange[]>(
            Methods.SelectionRange,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view
                    ?
                    [
                        .. asked.Positions.Select(position =>
                            Handle(request, view, request.Positions.ToLinePosition(view.Text, position))
                        ),
                    ]
                    : [.. asked.Positions.Select(position => new SelectionRange(new LspRange(position, position)))]
        );
    }

    public static SelectionRange Handle(RequestContext request, FileView view, LinePosition at)
    {
        // From the widest to the narrowest; each one that is really inside the one before it counts.
        var steps = new List<LspRange> { new(new(0, 0), request.Positions.ToPosition(view.Text, view.Text.Length)) };
        IEnumerable<OutlineEntry> entries = Outline.Of(view);
        while (entries.FirstOrDefault(entry => at.Line >= entry.FirstLine && at.Line <= entry.LastLine) is { } entry)
        {
            steps.Add(request.Lines(view.File, entry.FirstLine, entry.LastLine));
            entries = entry.Children;
        }

        LineSyntax line = view.Line(at.Line);
        steps.Add(request.Lines(view.File, at.Line, at.Line));
        if (line.CommentToken >= 0)
        {
            Add(line.Tokens[line.CommentToken].Span);
        }

        Add(line.CodeSpan);
        Add(line.OperandSpan);
        foreach (OperandSyntax operand in line.Operands)
        {
            Add(operand.Span);
        }

        foreach (SyntaxToken token in line.Tokens)
        {
            if (token.Kind is TokenKind.Name or TokenKind.Number or TokenKind.Character or TokenKind.Text)
            {
                Add(token.Span);
            }
        }

        SelectionRange? selection = null;
        foreach (LspRange step in steps)
        {
            if (
                selection is null
                || (step != selection.Range && step.Start >= selection.Range.Start && step.End <= selection.Range.End)
            )
            {
                selection = new SelectionRange(step) { Parent = selection };
            }
        }

        return selection!;

        void Add(TextSpan span)
        {
            if (span.Length > 0 && span.Touches(at.Column))
            {
                steps.Add(request.Range(view.File, at.Line, span));
            }
        }
    }
}
