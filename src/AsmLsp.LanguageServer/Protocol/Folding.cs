namespace AsmLsp.LanguageServer.Protocol;

internal static class FoldingRangeKind
{
    public const string Comment = "comment";
    public const string Imports = "imports";
    public const string Region = "region";
}

internal sealed record FoldingRange(int StartLine, int EndLine)
{
    public int? StartCharacter { get; init; }
    public int? EndCharacter { get; init; }
    public string? Kind { get; init; }
    public string? CollapsedText { get; init; }
}
