using System.Text.Json;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Structure;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/prepareCallHierarchy</c> with <c>callHierarchy/incomingCalls</c> and <c>outgoingCalls</c>: routines and who goes where.</summary>
internal sealed class CallHierarchyHandler : IFeature
{
    public const string PrepareCallHierarchyMethod = "textDocument/prepareCallHierarchy";
    public const string IncomingCallsMethod = "callHierarchy/incomingCalls";
    public const string OutgoingCallsMethod = "callHierarchy/outgoingCalls";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { CallHierarchyProvider = true });
        registry.Request<TextDocumentPositionParams, CallHierarchyItem[]>(
            PrepareCallHierarchyMethod,
            (request, asked, _) => request.Asked(asked) is var (view, at) ? Prepare(request, view, at) : []
        );
        registry.Request<CallHierarchyItemParams, CallHierarchyIncomingCall[]>(
            IncomingCallsMethod,
            (request, asked, _) => Incoming(request, asked.Item)
        );
        registry.Request<CallHierarchyItemParams, CallHierarchyOutgoingCall[]>(
            OutgoingCallsMethod,
            (request, asked, _) => Outgoing(request, asked.Item)
        );
    }

    public static CallHierarchyItem[] Prepare(RequestContext request, DocumentView view, LinePosition at) =>
        Routines.Of(view.Program.Model).NamedAt(view.File, at) is { } routine ? [Item(request, view, routine)] : [];

    public static CallHierarchyIncomingCall[] Incoming(RequestContext request, CallHierarchyItem item) =>
        Find(request, item) is var (view, routine)
            ?
            [
                .. Routines
                    .Of(view.Program.Model)
                    .CallersOf(routine)
                    .Select(calls => new CallHierarchyIncomingCall(
                        Item(request, view, calls.Routine),
                        [.. calls.Places.Select(place => request.Range(place))]
                    )),
            ]
            : [];

    public static CallHierarchyOutgoingCall[] Outgoing(RequestContext request, CallHierarchyItem item) =>
        Find(request, item) is var (view, routine)
            ?
            [
                .. Routines
                    .Of(view.Program.Model)
                    .CalledFrom(routine)
                    .Select(calls => new CallHierarchyOutgoingCall(
                        Item(request, view, calls.Routine),
                        [.. calls.Places.Select(place => request.Range(place))]
                    )),
            ]
            : [];

    private static (DocumentView View, RoutineLines Routine)? Find(RequestContext request, CallHierarchyItem item)
    {
        // The root is kept with the item, since an include may be seen through another program later.
        string uri = item.Data is { ValueKind: JsonValueKind.String } root ? root.GetString()! : item.Uri;
        return
            request.Programs.Find(DocumentUri.Parse(uri)) is { } view
            && Routines.Of(view.Program.Model).Find(item.Name) is { } routine
            ? (view, routine)
            : null;
    }

    private static CallHierarchyItem Item(RequestContext request, DocumentView view, RoutineLines routine) =>
        new(
            routine.Name,
            SymbolKind.Function,
            view.Programs.UriOf(routine.File).Text,
            request.Lines(routine.File, routine.Entry.FirstLine, routine.Entry.LastLine),
            request.Range(routine.Place)
        )
        {
            Detail = routine.Entry.Detail,
            Data = LspJson.Element(view.Programs.UriOf(view.Program.Root).Text),
        };
}

internal sealed record CallHierarchyItem(
    string Name,
    SymbolKind Kind,
    string Uri,
    LspRange Range,
    LspRange SelectionRange
)
{
    public string? Detail { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record CallHierarchyItemParams(CallHierarchyItem Item);

internal sealed record CallHierarchyIncomingCall(CallHierarchyItem From, LspRange[] FromRanges);

internal sealed record CallHierarchyOutgoingCall(CallHierarchyItem To, LspRange[] FromRanges);

internal sealed partial record ServerCapabilities
{
    public bool? CallHierarchyProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public CallHierarchyItem[]? CallHierarchyItemList { get; init; }
    public CallHierarchyItemParams? CallHierarchyItemParams { get; init; }
    public CallHierarchyIncomingCall[]? CallHierarchyIncomingCallList { get; init; }
    public CallHierarchyOutgoingCall[]? CallHierarchyOutgoingCallList { get; init; }
}
