namespace AsmLsp.LanguageServer.Protocol;

internal static class TraceValue
{
    public const string Off = "off";
    public const string Messages = "messages";
    public const string Verbose = "verbose";
}

internal sealed record LogTraceParams(string Message)
{
    public string? Verbose { get; init; }
}
