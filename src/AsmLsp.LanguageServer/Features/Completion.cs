using System.Globalization;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Text;
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

    public static CompletionItem[] Handle(RequestContext request, FileView view, LinePosition at)
    {
        var place = CompletionPlace.At(view, at);
        List<Offer> offers = CompletionOffers.For(view, place);
        LspRange range = request.Range(view.File, at.Line, place.Word);
        // In column 1 an operation gets the indent that the file's other operations have.
        string indent = place.Kind == PlaceKind.Start ? ProgramStyle.Of(view).Indent : "";
        return
        [
            .. offers.Select(offer =>
            {
                bool indented = indent.Length > 0 && offer.Topic is not null && !offer.Text.StartsWith('#');
                return new CompletionItem(offer.Text)
                {
                    Kind = offer.Kind,
                    Detail = offer.Detail,
                    SortText = string.Create(CultureInfo.InvariantCulture, $"{offer.Rank:D2}{offer.Text}"),
                    FilterText = offer.AlsoFoundBy is { } words ? $"{offer.Text} {words}" : offer.Text,
                    InsertTextFormat = InsertTextFormat.PlainText,
                    TextEdit = new LspTextEdit(range, indented ? indent + offer.Text : offer.Insert ?? offer.Text),
                    Data = offer.Topic is { } topic
                        ? LspJson.Element<string[]>([topic, offer.Text, view.Uri.Text])
                        : null,
                };
            }),
        ];
    }
}
