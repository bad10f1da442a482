namespace AsmLsp.LanguageServer.Protocol;

internal sealed record ProgressParams(IntOrString Token, object Value);

internal sealed record WorkDoneProgressCreateParams(IntOrString Token);

internal sealed record WorkDoneProgressBegin(string Title)
{
    public string Kind { get; init; } = "begin";
    public bool? Cancellable { get; init; }
    public string? Message { get; init; }
    public int? Percentage { get; init; }
}

internal sealed record WorkDoneProgressReport
{
    public string Kind { get; init; } = "report";
    public string? Message { get; init; }
    public int? Percentage { get; init; }
}

internal sealed record WorkDoneProgressEnd
{
    public string Kind { get; init; } = "end";
    public string? Message { get; init; }
}
