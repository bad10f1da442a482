using System.Text.Json;
using System.Text.Json.Serialization;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Changes;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Commands;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// <c>textDocument/codeAction</c>: the repairs for what is wrong in a range, then the refactorings for it. Worked out from the range itself, since some clients send none of
/// the problems that they show.
/// </summary>
internal sealed class CodeActionHandler : IFeature
{
    public const string Method = "textDocument/codeAction";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, client) =>
                client.CodeActionLiterals
                    ? offer with
                    {
                        CodeActionProvider = new CodeActionOptions
                        {
                            CodeActionKinds =
                            [
                                CodeActionKind.QuickFix,
                                CodeActionKind.RefactorExtract,
                                CodeActionKind.RefactorInline,
                                CodeActionKind.RefactorRewrite,
                                FixAllKind,
                            ],
                            ResolveProvider = ResolvesLater(client),
                        },
                    }
                    : offer with
                    {
                        CodeActionProvider = true,
                    }
        );
        registry.Request<CodeActionParams, CommandOrCodeAction[]>(
            Method,
            (request, asked, _) =>
                request.View(asked.TextDocument) is { } view ? Handle(request, view, asked)
                : request.Hex(asked.TextDocument) is { } hex ? HexActions.Of(request, hex, asked)
                : []
        );
    }

    /// <summary>Whether the client fetches the edits of the action that was chosen; only then may they be left out before.</summary>
    public static bool ResolvesLater(ClientProfile client) =>
        client.CodeActionResolve.Contains("edit") && client.CodeActionData;

    /// <summary>The kind of 'all certain fixes of the file'; editors run it on saving when asked to.</summary>
    private const string FixAllKind = CodeActionKind.SourceFixAll + ".relist";

    private static string KindOf(ActionKind kind) =>
        kind switch
        {
            ActionKind.FixAll => FixAllKind,
            ActionKind.Extract => CodeActionKind.RefactorExtract,
            ActionKind.Inline => CodeActionKind.RefactorInline,
            ActionKind.Rewrite => CodeActionKind.RefactorRewrite,
            _ => CodeActionKind.QuickFix,
        };

    public static CommandOrCodeAction[] Handle(RequestContext request, DocumentView view, CodeActionParams asked)
    {
        LinePosition start = request.Positions.ToLinePosition(view.Text, asked.Range.Start),
            end = request.Positions.ToLinePosition(view.Text, asked.Range.End);
        if (end < start)
        {
            (start, end) = (end, start);
        }

        int first = start.Line;
        int last = end.Line > first && end.Column == 0 ? end.Line - 1 : end.Line;

        string[]? only = asked.Context.Only;
        List<OfferedAction> offered = TheOneMeant(request, view, asked, first, last) is { } meant
            ? Actions
                .For(view.File, meant.First, meant.Last, Wants)
                .Where(action =>
                    action.Kind == ActionKind.Fix && (meant.Code is null || action.Problem?.Code == meant.Code)
                )
                .Take(1)
                .ToList()
            : Actions.For(view.File, first, last, Wants);
        if (only is null && !offered.Exists(action => action.IsCertainFix))
        {
            // In an open menu 'everything' makes sense beside something that it would do.
            offered.RemoveAll(action => action.Kind == ActionKind.FixAll);
        }

        if (!IsAboutNamedProblems(request, asked))
        {
            bool onlyCheap = asked.Context.TriggerKind == CodeActionTriggerKind.Automatic;
            offered.AddRange(RefactoringActions.For(view.File, start, end, Wants, onlyCheap));
        }

        if (!request.Profile.CodeActionLiterals)
        {
            return request.Profile.ApplyEdit
                ?
                [
                    .. offered.Select(action => new Command(action.Title, ApplyFixCommand.CommandName)
                    {
                        Arguments = [LspJson.Element(view.Uri.Text), LspJson.Element(action.Key)],
                    }),
                    .. PrintedDoubts(request, view, first, last),
                ]
                : [];
        }

        bool showsPlaces = Wants(ActionKind.Fix) && !IsAboutNamedProblems(request, asked);
        bool preferred = false;
        int atOnce = RefactoringActions.MostAtOnce(view.File);
        var actions = new List<CommandOrCodeAction>();
        foreach (OfferedAction action in offered)
        {
            bool isFirst = action.IsCertainFix && !preferred;
            preferred |= isFirst;
            bool later = ResolvesLater(request.Profile);
            if (!later && action.IsRefactoring && --atOnce < 0)
            {
                break;
            }

            WorkspaceEdit? edit = later ? null : Edits.Of(request, view.Programs, action.Changes());
            if (edit is { } nothing && Edits.IsEmpty(nothing))
            {
                continue;
            }

            actions.Add(
                new CodeAction(action.Title)
                {
                    Kind = KindOf(action.Kind),
                    Diagnostics = action.Problem is { } problem
                        ? [Diagnostics.Of(view.Programs, problem, request.Profile, request.Positions)]
                        : null,
                    IsPreferred = isFirst && request.Profile.CodeActionPreferred ? true : null,
                    Edit = edit,
                    Data = later ? LspJson.Element<string[]>([view.Uri.Text, action.Key]) : null,
                }
            );
        }

        if (showsPlaces)
        {
            // After the last fix: a menu keeps the order.
            int fixes =
                actions.FindLastIndex(static action => action is CodeAction { Kind: CodeActionKind.QuickFix }) + 1;
            actions.InsertRange(fixes, PrintedDoubts(request, view, first, last));
        }

        return [.. actions];

        bool Wants(ActionKind kind) => only is null || only.Any(wanted => CodeActionKind.Matches(KindOf(kind), wanted));
    }

    /// <summary>
    /// The problem that the client means, where it names just one but asks for the whole file: Kate does so, and makes every repair that it is
    /// given at once, which would repair the same place several times. Such a client (it knows no preferred repair) gets one repair.
    /// </summary>
    private static (int First, int Last, string? Code)? TheOneMeant(
        RequestContext request,
        DocumentView view,
        CodeActionParams asked,
        int first,
        int last
    )
    {
        if (
            asked.Context.Only is not null
            || request.Profile.CodeActionPreferred
            || asked.Context.Diagnostics is not [var named]
        )
        {
            return null;
        }

        int from = request.Positions.ToLinePosition(view.Text, named.Range.Start).Line;
        int to = request.Positions.ToLinePosition(view.Text, named.Range.End).Line;
        return first < from || last > to ? (from, to, named.Code?.Text) : null;
    }

    /// <summary>
    /// Whether a client that makes everything it is given (Kate) asks for the repairs of problems that it names: it must not be given what
    /// answers no problem.
    /// </summary>
    private static bool IsAboutNamedProblems(RequestContext request, CodeActionParams asked) =>
        asked.Context.Only is null
        && !request.Profile.CodeActionPreferred
        && asked.Context.Diagnostics is { Length: > 0 };

    // What a menu offers on a doubtful line beside its fixes.
    private static IEnumerable<CommandOrCodeAction> PrintedDoubts(
        RequestContext request,
        DocumentView view,
        int first,
        int last
    )
    {
        foreach (PrintedDoubt doubt in PrintedDoubt.On(view.File, first, last))
        {
            var command = new Command(doubt.Title, ShowPrintedCommand.CommandName)
            {
                Arguments = [LspJson.Element(view.Uri.Text), LspJson.Element(doubt.Problem.Place.Line)],
            };
            yield return request.Profile.CodeActionLiterals
                ? new CodeAction(doubt.Title)
                {
                    Kind = CodeActionKind.QuickFix,
                    Diagnostics = [Diagnostics.Of(view.Programs, doubt.Problem, request.Profile, request.Positions)],
                    Command = command,
                }
                : command;
        }
    }
}

internal static class CodeActionKind
{
    public const string QuickFix = "quickfix";
    public const string Refactor = "refactor";
    public const string RefactorExtract = "refactor.extract";
    public const string RefactorInline = "refactor.inline";
    public const string RefactorRewrite = "refactor.rewrite";
    public const string Source = "source";
    public const string SourceFixAll = "source.fixAll";

    /// <summary>Whether a kind is asked for: kinds are a hierarchy by dots.</summary>
    public static bool Matches(string kind, string wanted) =>
        wanted.Length == 0
        || kind.StartsWith(wanted, StringComparison.Ordinal)
            && (kind.Length == wanted.Length || kind[wanted.Length] == '.');
}

internal enum CodeActionTriggerKind
{
    Invoked = 1,
    Automatic = 2,
}

internal sealed record CodeActionOptions
{
    public string[]? CodeActionKinds { get; init; }
    public bool? ResolveProvider { get; init; }
}

internal sealed record CodeActionContext : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(Diagnostics, Only);

    /// <summary>What the client shows there; may be empty although there are problems, so nothing relies on it.</summary>
    public Diagnostic[]? Diagnostics { get; init; }
    public string[]? Only { get; init; }
    public CodeActionTriggerKind? TriggerKind { get; init; }
}

internal sealed record CodeActionParams(TextDocumentIdentifier TextDocument, LspRange Range, CodeActionContext Context);

[JsonConverter(typeof(CommandOrCodeActionConverter))]
internal abstract record CommandOrCodeAction;

internal sealed record CodeAction(string Title) : CommandOrCodeAction
{
    public string? Kind { get; init; }
    public Diagnostic[]? Diagnostics { get; init; }
    public bool? IsPreferred { get; init; }
    public CodeActionDisabled? Disabled { get; init; }
    public WorkspaceEdit? Edit { get; init; }
    public Command? Command { get; init; }
    public JsonElement? Data { get; init; }
}

internal sealed record CodeActionDisabled(string Reason);

internal sealed class CommandOrCodeActionConverter : ObjectUnionConverter<CommandOrCodeAction>
{
    protected override Type Pick(JsonElement element) =>
        element.TryGetProperty("command", out JsonElement command) && command.ValueKind == JsonValueKind.String
            ? typeof(Command)
            : typeof(CodeAction);
}

/// <summary>What a menu entry or a lens runs.</summary>
internal sealed record Command(string Title, [property: JsonPropertyName("command")] string Name) : CommandOrCodeAction
{
    public JsonElement[]? Arguments { get; init; }
}

internal sealed partial record ServerCapabilities
{
    [JsonConverter(typeof(BoolOrConverter<CodeActionOptions>))]
    public BoolOr<CodeActionOptions>? CodeActionProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public CodeActionParams? CodeActionParams { get; init; }
    public CommandOrCodeAction[]? CommandOrCodeActionList { get; init; }
    public CodeActionOptions? CodeActionOptions { get; init; }
    public Command? Command { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class CodeActionClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether its menus hold more than commands.</summary>
        public bool CodeActionLiterals => client.Has("textDocument.codeAction.codeActionLiteralSupport");

        /// <summary>Whether it knows which action comes first.</summary>
        public bool CodeActionPreferred => client.Flag("textDocument.codeAction.isPreferredSupport");

        /// <summary>Whether it keeps data with an action.</summary>
        public bool CodeActionData => client.Flag("textDocument.codeAction.dataSupport");

        /// <summary>What it fetches when an action was chosen.</summary>
        public IReadOnlyList<string> CodeActionResolve =>
            client.Texts("textDocument.codeAction.resolveSupport.properties");
    }
}
