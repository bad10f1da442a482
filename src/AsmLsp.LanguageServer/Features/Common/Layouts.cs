using System.Collections.Immutable;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Layout edits for the client.</summary>
internal static class Layouts
{
    /// <summary>The edits that lay out a file, or some of its lines.</summary>
    public static LspTextEdit[] Format(RequestContext request, FileView view, FormattingOptions asked, LineRange? lines)
    {
        FormatOptions options = OptionsOf(request.Settings);
        // An editor that puts in blanks wants no tab left; one that puts in tabs gets them where the file has them.
        if (asked.InsertSpaces)
            options = options with { UseTabs = false };
        ImmutableArray<TextEdit> edits = Formatter.Format(view.Analysis, view.File, options, lines);
        return request.Positions.ToEdits(view.Text, edits);
    }

    /// <summary>How a layout is to look: as the file does; a tab is as wide as the settings say, whatever the editor shows.</summary>
    public static FormatOptions OptionsOf(Settings settings) => new() { TabSize = settings.TabWidth };
}
