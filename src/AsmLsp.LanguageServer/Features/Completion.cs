using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.Ide.Completing;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/completion</c>: what fits the place, in the case that the program is written in.</summary>
internal sealed class CompletionHandler : IFeature
{
    public const string Method = "textDocument/completion";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) =>
                offer with
                {
                    CompletionProvider = new()
                    {
                        TriggerCharacters = [",", "#", "_", "=", "<", "&"],
                        ResolveProvider = true,
                    },
                }
        );
        registry.Request<CompletionParams, CompletionList>(
            Method,
            (request, asked, _) =>
                request.Asked(asked) is var (view, at) ? new(false, Handle(request, view, at)) : new(false, [])
        );
    }

    /// <summary>More files beside a source would make a list that nobody reads.</summary>
    private const int MostFiles = 200;

    public static CompletionItem[] Handle(RequestContext request, DocumentView view, LinePosition at)
    {
        CompletionResult result = Completion.At(view.File, at, () => FilesBeside(view.Source));
        LspRange range = request.Range(view.Source, at.Line, result.Replaced);
        return
        [
            .. result.Offers.Select(offer => new CompletionItem(offer.Text)
            {
                Kind = KindOf(offer.Kind),
                Detail = offer.Detail,
                SortText = string.Create(CultureInfo.InvariantCulture, $"{offer.Rank:D2}{offer.Text}"),
                FilterText = offer.AlsoFoundBy is { } words ? $"{offer.Text} {words}" : offer.Text,
                InsertTextFormat = InsertTextFormat.PlainText,
                TextEdit = new LspTextEdit(range, offer.Insert),
                Data = offer.Topic is { } topic
                    ? LspJson.Element<string[]>([CompletionTopics.NameOf(topic), offer.Text, view.Uri.Text])
                    : null,
            }),
        ];
    }

    private static IEnumerable<string> FilesBeside(SourceFile source) =>
        Path.GetDirectoryName(source.Name) is { Length: > 0 } folder && Path.IsPathFullyQualified(source.Name)
            ? DiskView
                .Instance.NamesIn(folder)
                .Where(name => Path.GetExtension(name).ToLowerInvariant() is ".inc" or ".h" or ".asm")
                .Where(name => name != source.ShortName)
                .Take(MostFiles)
            : [];

    private static CompletionItemKind KindOf(OfferKind kind) =>
        kind switch
        {
            OfferKind.Macro or OfferKind.Label => CompletionItemKind.Function,
            OfferKind.Register => CompletionItemKind.Variable,
            OfferKind.Constant => CompletionItemKind.Constant,
            OfferKind.Bit or OfferKind.Destination or OfferKind.Setting => CompletionItemKind.EnumMember,
            OfferKind.ListPart => CompletionItemKind.Property,
            OfferKind.Chip => CompletionItemKind.Module,
            OfferKind.File => CompletionItemKind.File,
            _ => CompletionItemKind.Keyword,
        };
}

/// <summary>What an entry's documentation is looked up by, as it travels with the entry.</summary>
internal static class CompletionTopics
{
    private const string Operation = "operation",
        Name = "name";

    public static string NameOf(WordTopic topic) => topic == WordTopic.Operation ? Operation : Name;

    public static WordTopic Read(string name) => name == Operation ? WordTopic.Operation : WordTopic.Name;
}

internal enum CompletionItemKind
{
    Text = 1,
    Method = 2,
    Function = 3,
    Constructor = 4,
    Field = 5,
    Variable = 6,
    Class = 7,
    Interface = 8,
    Module = 9,
    Property = 10,
    Unit = 11,
    Value = 12,
    Enum = 13,
    Keyword = 14,
    Snippet = 15,
    Color = 16,
    File = 17,
    Reference = 18,
    Folder = 19,
    EnumMember = 20,
    Constant = 21,
    Struct = 22,
    Event = 23,
    Operator = 24,
    TypeParameter = 25,
}

internal enum InsertTextFormat
{
    PlainText = 1,
    Snippet = 2,
}

internal enum CompletionTriggerKind
{
    Invoked = 1,
    TriggerCharacter = 2,
    TriggerForIncompleteCompletions = 3,
}

internal sealed record CompletionOptions
{
    public string[]? TriggerCharacters { get; init; }
    public bool? ResolveProvider { get; init; }
}

internal sealed record CompletionContext(CompletionTriggerKind TriggerKind)
{
    public string? TriggerCharacter { get; init; }
}

internal sealed record CompletionParams(TextDocumentIdentifier TextDocument, Position Position)
    : TextDocumentPositionParams(TextDocument, Position)
{
    public CompletionContext? Context { get; init; }
}

internal sealed record CompletionList(bool IsIncomplete, CompletionItem[] Items);

internal sealed record CompletionItem(string Label)
{
    public CompletionItemLabelDetails? LabelDetails { get; init; }
    public CompletionItemKind? Kind { get; init; }
    public int[]? Tags { get; init; }
    public string? Detail { get; init; }

    [JsonConverter(typeof(StringOrConverter<MarkupContent>))]
    public StringOr<MarkupContent>? Documentation { get; init; }
    public bool? Preselect { get; init; }
    public string? SortText { get; init; }
    public string? FilterText { get; init; }
    public string? InsertText { get; init; }
    public InsertTextFormat? InsertTextFormat { get; init; }
    public LspTextEdit? TextEdit { get; init; }
    public LspTextEdit[]? AdditionalTextEdits { get; init; }
    public string[]? CommitCharacters { get; init; }
    public Command? Command { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record CompletionItemLabelDetails
{
    public string? Detail { get; init; }
    public string? Description { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public CompletionOptions? CompletionProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public CompletionParams? CompletionParams { get; init; }
    public CompletionList? CompletionList { get; init; }
}
