using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/foldingRange</c>: what the outline shows, choices and loops, runs of comment lines, runs of includes.</summary>
internal sealed class FoldingRangeHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { FoldingRangeProvider = true });
        registry.Request<TextDocumentParams, FoldingRange[]>(
            Methods.FoldingRange,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view ? Handle(view, request.Profile.FoldingLimit) : []
        );
    }

    public static FoldingRange[] Handle(FileView view, int? limit)
    {
        var ranges = new List<FoldingRange>();
        FromOutline(Outline.Of(view));
        var open = new Stack<int>();
        int comments = -1,
            includes = -1,
            number = 0;
        foreach (TextLine line in view.Text.Lines)
        {
            var syntax = LineSyntax.Of(line);
            bool isComment = syntax.IsBlank && syntax.CommentToken >= 0;
            Run(ref comments, isComment, FoldingRangeKind.Comment);
            Run(ref includes, syntax.Keyword == Keyword.Include, FoldingRangeKind.Imports);
            switch (syntax.Keyword)
            {
                case Keyword.If or Keyword.IfDefined or Keyword.IfNotDefined or Keyword.While:
                    open.Push(number);
                    break;
                case Keyword.Else or Keyword.ElseIf:
                    Close(number - 1);
                    open.Push(number);
                    break;
                case Keyword.EndIf or Keyword.EndWhile:
                    Close(number);
                    break;
            }

            number++;
        }

        Run(ref comments, false, FoldingRangeKind.Comment);
        Run(ref includes, false, FoldingRangeKind.Imports);
        IEnumerable<FoldingRange> sorted = ranges
            .DistinctBy(range => (range.StartLine, range.EndLine))
            .OrderBy(range => range.StartLine)
            .ThenByDescending(range => range.EndLine);
        return [.. limit is { } most and >= 0 ? sorted.Take(most) : sorted];

        void FromOutline(IEnumerable<OutlineEntry> entries)
        {
            foreach (OutlineEntry entry in entries)
            {
                Add(entry.FirstLine, LastWithText(view.Text, entry.FirstLine, entry.LastLine), null);
                FromOutline(entry.Children);
            }
        }

        void Run(ref int start, bool continues, string kind)
        {
            if (continues)
            {
                start = start < 0 ? number : start;
                return;
            }

            if (start >= 0)
            {
                Add(start, number - 1, kind);
            }

            start = -1;
        }

        void Close(int last)
        {
            if (open.TryPop(out int opened))
            {
                Add(opened, last, null);
            }
        }

        void Add(int first, int last, string? kind)
        {
            if (last > first)
            {
                ranges.Add(new(first, last) { Kind = kind });
            }
        }
    }

    /// <summary>Blank lines and comments before the next routine belong to that one.</summary>
    private static int LastWithText(SourceText text, int first, int last)
    {
        while (last > first && LineSyntax.Of(text[last]).IsBlank)
        {
            last--;
        }

        return last;
    }
}
