using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Places of files as the client reads them.</summary>
internal static class Places
{
    public static LspRange Range(this RequestContext request, SourceFile file, int line, TextSpan columns) =>
        request.Positions.ToRange(file.Text, line, columns.Start, columns.End);

    public static LspRange Range(this RequestContext request, SourcePlace place) =>
        request.Range(place.File, place.Line, place.Columns);

    public static Location Location(this RequestContext request, WorkspacePrograms programs, SourcePlace place) =>
        new(programs.UriOf(place.File).Text, request.Range(place));

    /// <summary>Whole lines, from the first column of the one to the end of the other.</summary>
    public static LspRange Lines(this RequestContext request, SourceFile file, int first, int last) =>
        new(new(first, 0), request.Positions.ToPosition(file.Text, new LinePosition(last, int.MaxValue)));

    /// <summary>A place that a client asks about; null where the document is not known.</summary>
    public static (DocumentView View, LinePosition At)? Asked(
        this RequestContext request,
        TextDocumentPositionParams asked
    ) =>
        request.View(asked.TextDocument) is { } view
            ? (view, request.Positions.ToLinePosition(view.Text, asked.Position))
            : null;
}
