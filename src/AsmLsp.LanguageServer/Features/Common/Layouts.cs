using System.Collections.Immutable;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Layout edits for the client.</summary>
internal static class Layouts
{
    /// <summary>The edits that lay out a file, or some of its lines.</summary>
    public static LspTextEdit[] Format(RequestContext request, FileView view, LineRange? lines)
    {
        ImmutableArray<TextEdit> edits = Formatter.Format(view.Analysis, view.File, OptionsOf(request.Settings), lines);
        return request.Positions.ToEdits(view.Text, edits);
    }

    /// <summary>How a layout is to look: as the file does; a tab is as wide as the settings say, whatever the editor shows.</summary>
    public static FormatOptions OptionsOf(Settings settings) => new() { TabSize = settings.TabWidth };
}
