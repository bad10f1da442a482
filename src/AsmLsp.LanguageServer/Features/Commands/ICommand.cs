using System.Text.Json;
using AsmLsp.Core.Devices;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features.Commands;

/// <summary>A command that a menu, a key or a lens of the editor runs on the server.</summary>
internal interface ICommand
{
    /// <summary>The name, below <c>relist.</c>.</summary>
    string Name { get; }

    /// <summary>Does it; gives what a caller may want to know, or null.</summary>
    Task<JsonElement?> RunAsync(
        RequestContext request,
        JsonElement[] arguments,
        IntOrString? progress,
        CancellationToken cancellation
    );
}

/// <summary>All commands, in the order in which they are offered; a test finds one that is missing here.</summary>
internal static class CommandList
{
    public static IReadOnlyList<ICommand> All { get; } =
    [
        new BuildCommand(),
        new RecoverCommand(),
        new ShowProblemPageCommand(),
        new ShowCallersCommand(),
        new ShowPrintedCommand(),
        new ApplyFixCommand(),
        new DisassembleCommand(),
        new CompareCommand(),
        new ShowCardCommand(),
        new ReplaceChipCommand(),
    ];

    /// <summary>A chip by its name; refused, for people, where it is not known.</summary>
    public static Device Chip(this JsonElement[] arguments, int at)
    {
        string name = arguments.Text(at, "a chip");
        return DeviceCatalog.Find(name) ?? throw LspException.Refused($"No chip called {name} is known here.");
    }

    /// <summary>The text at a place of the arguments; fails in words where it is missing.</summary>
    public static string Text(this JsonElement[] arguments, int at, string what) =>
        at < arguments.Length && arguments[at].ValueKind == JsonValueKind.String
            ? arguments[at].GetString()!
            : throw LspException.BadParameters($"This command needs {what} as its argument {at + 1}.");
}
