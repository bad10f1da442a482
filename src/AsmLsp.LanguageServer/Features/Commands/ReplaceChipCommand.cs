using System.Globalization;
using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Replacement;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary>
/// <c>relist.replaceChip URI CHIP</c>: puts the program onto another chip, in a new file beside it that is opened; says what was proved and what
/// is left to decide, and gives the address of the new file.
/// </summary>
internal sealed class ReplaceChipCommand : ICommand
{
    public string Name => "relist.replaceChip";

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        var uri = DocumentUri.Parse(arguments.Text(0, "the address of a document"));
        Device chip = arguments.Chip(1);
        DocumentView view =
            request.Programs.Find(uri)
            ?? throw LspException.Refused($"{uri.Name} is neither open nor a file that can be read.");
        ProgramAnalysis program = view.Program.Analysis;
        if (program.HasErrors)
            throw LspException.Refused($"{uri.Name} has errors. Resolve them first.");
        if (program.Device is null)
            throw LspException.Refused($"{uri.Name} names no chip. Name it with 'list p=...'.");
        if (program.Roots.Length > 1)
            throw LspException.Refused("The program has several sources: that cannot be done yet.");
        if (
            DocumentUri.FromPath(program.Root.Name).Path is not { } path
            || !Path.IsPathFullyQualified(program.Root.Name)
        )
            throw LspException.Refused($"{uri.Name} is not saved as a file yet: save it first.");
        var moved = ChipReplacement.Of(program, chip);
        string marking = chip.Name.Replace("PIC", "", StringComparison.Ordinal).ToLowerInvariant();
        string target = NewSource.FreePath(
            Path.Combine(Path.GetDirectoryName(path)!, $"{Path.GetFileNameWithoutExtension(path)}-{marking}.asm"),
            "again"
        );
        string address = await NewSource
            .OpenAsync(
                request,
                target,
                moved.Source.Text.ToString(),
                $"Put {program.Root.ShortName} onto {chip.Name}",
                cancellation
            )
            .ConfigureAwait(false);
        int open = moved.Findings.Count(static f => f.Kind is FindingKind.Doubt or FindingKind.Impossible);
        request.Server.Client.ShowMessage(
            moved.IsClean ? MessageType.Info : MessageType.Warning,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{Path.GetFileName(target)}: {(open == 0 ? "nothing is left to decide" : $"{open} thing{(open == 1 ? "" : "s")} to decide")}. {moved.Words}"
            )
        );
        foreach (
            ReplacementFinding finding in moved.Findings.Where(static f =>
                f.Kind is FindingKind.Impossible || (f.Kind == FindingKind.Doubt && f.Line is null)
            )
        )
            request.Server.Client.ShowMessage(MessageType.Warning, finding.Text);
        return LspJson.Element(address);
    }
}
