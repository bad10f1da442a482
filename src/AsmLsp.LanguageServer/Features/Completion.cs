using System.Globalization;
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
            Methods.Completion,
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
