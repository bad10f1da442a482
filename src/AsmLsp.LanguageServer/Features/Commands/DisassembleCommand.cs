using System.Text.Json;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Disassembly;
using AsmLsp.Core.Hex;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary>
/// <c>relist.disassemble URI [CHIP]</c>: makes source of an open HEX file, in a new file beside it that is opened; gives its address. The
/// source builds to the very same words.
/// </summary>
internal sealed class DisassembleCommand : ICommand
{
    public const string CommandName = "relist.disassemble";

    public string Name => CommandName;

    public async Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    )
    {
        var uri = DocumentUri.Parse(arguments.Text(0, "the address of a HEX file"));
        HexView hex =
            HexView.Find(request.Programs, uri) ?? throw LspException.Refused($"{uri.Name} is not open as a HEX file.");
        WordMemory memory = hex.UsableMemory;
        Device chip = arguments.Length > 1 ? arguments.Chip(1) : hex.Chip;
        if (uri.Path is not { } path)
            throw LspException.Refused($"{uri.Name} is not saved as a file yet: save it first.");
        DisassembledProgram made = Disassembler.Disassemble(
            memory,
            chip,
            $"{uri.Name}, read as a program for {chip.Name}"
        );
        string source = NewSource.FreePath(path, "disassembled");
        string address = await NewSource
            .OpenAsync(request, source, made.Text, $"Disassemble {uri.Name}", cancellation)
            .ConfigureAwait(false);
        foreach (DisassemblyDoubt doubt in made.Doubts)
            request.Server.Client.ShowMessage(MessageType.Warning, doubt.Message);
        return LspJson.Element(address);
    }
}
