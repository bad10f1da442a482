using AsmLsp.Core.Layout;
using AsmLsp.Ide.Changes;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Layout edits for the client.</summary>
internal static class Layouts
{
    /// <summary>The edits that lay out a file, or some of its lines; a tab is as wide as the settings say, whatever the editor shows.</summary>
    public static LspTextEdit[] Format(
        RequestContext request,
        DocumentView view,
        FormattingOptions asked,
        LineRange? lines
    ) =>
        request.Positions.ToEdits(
            view.Text,
            FileLayout.Format(view.File, request.Settings.TabWidth, asked.InsertSpaces, lines)
        );
}
