using System.Collections.Concurrent;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using AsmLsp.Core.Text;
using AsmLsp.Ide.HexFiles;
using AsmLsp.Ide.Reading;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/semanticTokens</c>, in full, as the difference to the last answer, and for a range.</summary>
internal sealed class SemanticTokensHandler : IFeature
{
    public const string SemanticTokensFullMethod = "textDocument/semanticTokens/full";
    public const string SemanticTokensDeltaMethod = "textDocument/semanticTokens/full/delta";
    public const string SemanticTokensRangeMethod = "textDocument/semanticTokens/range";

    // All of these names are known to every client; the numbers on the wire are places in these lists.
    private static readonly (TokenClass Class, string Name)[] Types =
    [
        (TokenClass.Instruction, "keyword"),
        (TokenClass.Directive, "modifier"),
        (TokenClass.Macro, "macro"),
        (TokenClass.Label, "function"),
        (TokenClass.Value, "variable"),
        (TokenClass.Bit, "property"),
        (TokenClass.ChipName, "enumMember"),
        (TokenClass.Parameter, "parameter"),
        (TokenClass.Number, "number"),
        (TokenClass.Text, "string"),
        (TokenClass.Comment, "comment"),
        (TokenClass.Operator, "operator"),
        (TokenClass.Section, "namespace"),
    ];

    // In the order of the flags of TokenTraits, which travel as they are.
    private static SemanticTokensLegend Legend { get; } =
        new([.. Types.Select(type => type.Name)], ["declaration", "readonly", "defaultLibrary"]);

    public void Register(FeatureRegistry registry)
    {
        // The last answer for each document: a difference needs what the client has.
        var last = new ConcurrentDictionary<DocumentUri, Given>();
        int given = 0;
        registry.Capability(
            (offer, _) =>
                offer with
                {
                    SemanticTokensProvider = new(Legend)
                    {
                        Range = true,
                        Full = new SemanticTokensFullOptions(Delta: true),
                    },
                }
        );
        registry.Request<TextDocumentParams, SemanticTokens>(
            SemanticTokensFullMethod,
            (request, asked, _) => Whole(request, asked.TextDocument)
        );
        registry.Request<SemanticTokensDeltaParams, SemanticTokensResult>(
            SemanticTokensDeltaMethod,
            (request, asked, _) =>
            {
                Given? before = last.GetValueOrDefault(DocumentUri.Parse(asked.TextDocument.Uri));
                SemanticTokens now = Whole(request, asked.TextDocument);
                return before?.Id == asked.PreviousResultId
                    ? new SemanticTokensDelta(Difference(before.Data, now.Data)) { ResultId = now.ResultId }
                    : now;
            }
        );
        registry.Request<SemanticTokensRangeParams, SemanticTokens>(
            SemanticTokensRangeMethod,
            (request, asked, _) =>
            {
                if (TextOf(request, asked.TextDocument) is not { } text)
                {
                    return new SemanticTokens([]);
                }

                int end = Math.Min(asked.Range.End.Line, text.LineCount - 1);
                return new SemanticTokens(
                    Numbers(request, asked.TextDocument, text, Math.Min(asked.Range.Start.Line, end), end)
                );
            }
        );
        registry.Changed(
            (_, change) =>
            {
                if (change.Kind == ChangeKind.Closed)
                {
                    foreach (DocumentUri closed in change.Documents)
                    {
                        last.TryRemove(closed, out Given? _);
                    }
                }
            }
        );

        SemanticTokens Whole(RequestContext request, TextDocumentIdentifier document)
        {
            if (TextOf(request, document) is not { } text)
            {
                return new SemanticTokens([]);
            }

            int[] data = Numbers(request, document, text, 0, text.LineCount - 1);
            string id = Interlocked.Increment(ref given).ToString(CultureInfo.InvariantCulture);
            last[DocumentUri.Parse(document.Uri)] = new Given(id, data);
            return new SemanticTokens(data) { ResultId = id };
        }
    }

    /// <summary>One edit from the first number that differs to the last one.</summary>
    public static SemanticTokensEdit[] Difference(int[] before, int[] now)
    {
        int head = before.AsSpan().CommonPrefixLength(now);
        if (head == before.Length && head == now.Length)
        {
            return [];
        }

        int tail = 0;
        while (tail < Math.Min(before.Length, now.Length) - head && before[^(tail + 1)] == now[^(tail + 1)])
        {
            tail++;
        }

        return [new SemanticTokensEdit(head, before.Length - head - tail) { Data = now[head..(now.Length - tail)] }];
    }

    private static SourceText? TextOf(RequestContext request, TextDocumentIdentifier document) =>
        request.View(document)?.Text ?? request.Hex(document)?.File.Text;

    private static IEnumerable<ClassifiedToken> Tokens(
        RequestContext request,
        TextDocumentIdentifier document,
        int first,
        int last
    ) =>
        request.View(document) is { } view ? TokenClasses.Of(view.File, first, last)
        : request.Hex(document) is { } hex ? HexTokens.Of(hex.File, first, last)
        : [];

    // Five numbers a token, each place relative to the token before.
    private static int[] Numbers(
        RequestContext request,
        TextDocumentIdentifier document,
        SourceText text,
        int first,
        int last
    )
    {
        var data = new List<int>();
        int previousLine = 0,
            previousStart = 0;
        foreach (ClassifiedToken token in Tokens(request, document, first, last))
        {
            LspRange range = request.Positions.ToRange(text, token.Line, token.Columns.Start, token.Columns.End);
            int start = range.Start.Character;
            data.Add(token.Line - previousLine);
            data.Add(token.Line == previousLine ? start - previousStart : start);
            data.Add(range.End.Character - start);
            data.Add(TypeOf(token.Class));
            data.Add((int)token.Traits);
            (previousLine, previousStart) = (token.Line, start);
        }

        return [.. data];
    }

    private static int TypeOf(TokenClass kind) => Array.FindIndex(Types, type => type.Class == kind);

    private sealed record Given(string Id, int[] Data);
}

internal sealed record SemanticTokensLegend(string[] TokenTypes, string[] TokenModifiers);

internal sealed record SemanticTokensFullOptions(bool Delta);

internal sealed record SemanticTokensOptions(SemanticTokensLegend Legend)
{
    public bool? Range { get; init; }

    [JsonConverter(typeof(BoolOrConverter<SemanticTokensFullOptions>))]
    public BoolOr<SemanticTokensFullOptions>? Full { get; init; }
}

internal sealed record SemanticTokensDeltaParams(TextDocumentIdentifier TextDocument, string PreviousResultId);

internal sealed record SemanticTokensRangeParams(TextDocumentIdentifier TextDocument, LspRange Range);

/// <summary>The answer to a full or a delta request.</summary>
[JsonConverter(typeof(SemanticTokensResultConverter))]
internal abstract record SemanticTokensResult
{
    public string? ResultId { get; init; }
}

/// <summary>Five numbers a token: line and start relative to the token before, length, type, modifiers.</summary>
internal sealed record SemanticTokens(int[] Data) : SemanticTokensResult;

internal sealed record SemanticTokensDelta(SemanticTokensEdit[] Edits) : SemanticTokensResult;

internal sealed record SemanticTokensEdit(int Start, int DeleteCount)
{
    public int[]? Data { get; init; }
}

internal sealed class SemanticTokensResultConverter : ObjectUnionConverter<SemanticTokensResult>
{
    protected override Type Pick(JsonElement element) =>
        element.TryGetProperty("edits", out _) ? typeof(SemanticTokensDelta) : typeof(SemanticTokens);
}

internal sealed partial record ServerCapabilities
{
    public SemanticTokensOptions? SemanticTokensProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public SemanticTokensDeltaParams? SemanticTokensDeltaParams { get; init; }
    public SemanticTokensRangeParams? SemanticTokensRangeParams { get; init; }
    public SemanticTokensResult? SemanticTokensResult { get; init; }
    public SemanticTokens? SemanticTokens { get; init; }
    public SemanticTokensDelta? SemanticTokensDelta { get; init; }
    public SemanticTokensFullOptions? SemanticTokensFullOptions { get; init; }
}
