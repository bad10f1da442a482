namespace AsmLsp.LanguageServer.Protocol;

internal enum MessageType
{
    Error = 1,
    Warning = 2,
    Info = 3,
    Log = 4,
}

internal sealed record ShowMessageParams(MessageType Type, string Message);

internal sealed record LogMessageParams(MessageType Type, string Message);

internal sealed record MessageActionItem(string Title);

internal sealed record ShowMessageRequestParams(MessageType Type, string Message)
{
    public MessageActionItem[]? Actions { get; init; }
}

internal sealed record ShowDocumentParams(string Uri)
{
    public bool? External { get; init; }
    public bool? TakeFocus { get; init; }
    public LspRange? Selection { get; init; }
}

internal sealed record ShowDocumentResult(bool Success);
