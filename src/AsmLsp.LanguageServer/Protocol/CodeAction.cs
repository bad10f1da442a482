using System.Text.Json;
using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

internal static class CodeActionKind
{
    public const string QuickFix = "quickfix";
    public const string Refactor = "refactor";
    public const string RefactorExtract = "refactor.extract";
    public const string RefactorInline = "refactor.inline";
    public const string RefactorRewrite = "refactor.rewrite";
    public const string Source = "source";
    public const string SourceFixAll = "source.fixAll";

    /// <summary>Whether a kind is asked for: kinds are a hierarchy by dots.</summary>
    public static bool Matches(string kind, string wanted) =>
        wanted.Length == 0
        || kind.StartsWith(wanted, StringComparison.Ordinal)
            && (kind.Length == wanted.Length || kind[wanted.Length] == '.');
}

internal enum CodeActionTriggerKind
{
    Invoked = 1,
    Automatic = 2,
}

internal sealed record CodeActionOptions
{
    public string[]? CodeActionKinds { get; init; }
    public bool? ResolveProvider { get; init; }
}

internal sealed record CodeActionContext : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(Diagnostics, Only);

    /// <summary>What the client shows there; may be empty although there are problems, so nothing relies on it.</summary>
    public Diagnostic[]? Diagnostics { get; init; }
    public string[]? Only { get; init; }
    public CodeActionTriggerKind? TriggerKind { get; init; }
}

internal sealed record CodeActionParams(TextDocumentIdentifier TextDocument, LspRange Range, CodeActionContext Context);

[JsonConverter(typeof(CommandOrCodeActionConverter))]
internal abstract record CommandOrCodeAction;

internal sealed record CodeAction(string Title) : CommandOrCodeAction
{
    public string? Kind { get; init; }
    public Diagnostic[]? Diagnostics { get; init; }
    public bool? IsPreferred { get; init; }
    public CodeActionDisabled? Disabled { get; init; }
    public WorkspaceEdit? Edit { get; init; }
    public Command? Command { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record CodeActionDisabled(string Reason);

internal sealed class CommandOrCodeActionConverter : ObjectUnionConverter<CommandOrCodeAction>
{
    protected override Type Pick(JsonElement element) =>
        element.TryGetProperty("command", out JsonElement command) && command.ValueKind == JsonValueKind.String
            ? typeof(Command)
            : typeof(CodeAction);
}
