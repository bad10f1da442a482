using System.Text.Json;
using AsmLsp.Ide.Completing;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>completionItem/resolve</c>: the documentation of one entry, when the client shows it.</summary>
internal sealed class CompletionResolveHandler : IFeature
{
    public const string Method = "completionItem/resolve";

    public void Register(FeatureRegistry registry) =>
        registry.Request<CompletionItem, CompletionItem>(Method, (request, item, _) => Handle(request, item));

    public static CompletionItem Handle(RequestContext request, CompletionItem item)
    {
        if (
            item.Data is not { ValueKind: JsonValueKind.Array } data
            || data.GetArrayLength() != 3
            || data.EnumerateArray().Any(part => part.ValueKind != JsonValueKind.String)
        )
        {
            return item;
        }

        DocumentView? view = request.Programs.Find(DocumentUri.Parse(data[2].GetString()!));
        WordTopic topic = CompletionTopics.Read(data[0].GetString()!);
        return WordDocumentation.Of(view?.File, topic, data[1].GetString()!) is { } text
            ? item with
            {
                Documentation = ClientText.Documentation(text, request.Profile.CompletionMarkdown),
            }
            : item;
    }
}

internal sealed partial class MessageTypes
{
    public CompletionItem? CompletionItem { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class CompletionResolveClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether documentation is shown as Markdown.</summary>
        public bool CompletionMarkdown =>
            client.Texts("textDocument.completion.completionItem.documentationFormat").Contains("markdown");
    }
}
