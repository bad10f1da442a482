using System.Globalization;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Commands;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>What a menu offers on a doubtful line beside its repairs: to show where it was printed.</summary>
internal static class PrintedPlaces
{
    /// <summary>The actions for the doubts on some lines of a file, both ends included.</summary>
    public static IEnumerable<CommandOrCodeAction> For(RequestContext request, FileView view, int first, int last)
    {
        foreach (Problem problem in view.Problems)
        {
            int line = problem.Place.Line;
            if (
                problem.Kind != Catalogue.OpenDoubt
                || line < first
                || line > last
                || DoubtMark.Read(view.Text[line].Text) is not { FirstPlace: PrintedPlace } doubt
            )
            {
                continue;
            }

            string title = string.Create(CultureInfo.InvariantCulture, $"Show where it was printed: {doubt.Place}");
            var command = new Command(title, ShowPrintedCommand.CommandName)
            {
                Arguments = [LspJson.Element(view.Uri.Text), LspJson.Element(line)],
            };
            yield return request.Profile.CodeActionLiterals
                ? new CodeAction(title)
                {
                    Kind = CodeActionKind.QuickFix,
                    Diagnostics = [Diagnostics.Of(view.Set, problem, request.Profile, request.Positions)],
                    Command = command,
                }
                : command;
        }
    }
}
