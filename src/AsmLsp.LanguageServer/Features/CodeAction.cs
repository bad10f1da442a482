using AsmLsp.Core.Text;
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
                                Actions.FixAllKind,
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
            Methods.CodeAction,
            (request, asked, _) => request.View(asked.TextDocument) is { } view ? Handle(request, view, asked) : []
        );
    }

    /// <summary>Whether the client fetches the edits of the action that was chosen; only then may they be left out before.</summary>
    public static bool ResolvesLater(ClientProfile client) =>
        client.CodeActionResolve.Contains("edit") && client.CodeActionData;

    public static CommandOrCodeAction[] Handle(RequestContext request, FileView view, CodeActionParams asked)
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
                .For(view, meant.First, meant.Last, Wants)
                .Where(action =>
                    action.Kind == CodeActionKind.QuickFix && (meant.Code is null || action.Problem?.Code == meant.Code)
                )
                .Take(1)
                .ToList()
            : Actions.For(view, first, last, Wants);
        if (only is null && !offered.Exists(action => action.IsCertain && action.Kind == CodeActionKind.QuickFix))
        {
            // In an open menu 'everything' makes sense beside something that it would do.
            offered.RemoveAll(action => action.Kind == Actions.FixAllKind);
        }

        if (!IsAboutNamedProblems(request, asked))
        {
            bool onlyCheap = asked.Context.TriggerKind == CodeActionTriggerKind.Automatic;
            offered.AddRange(RefactoringActions.For(view, start, end, Wants, onlyCheap));
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
                    .. PrintedPlaces.For(request, view, first, last),
                ]
                : [];
        }

        bool showsPlaces = Wants(CodeActionKind.QuickFix) && !IsAboutNamedProblems(request, asked);
        bool preferred = false;
        int atOnce = RefactoringActions.MostAtOnce(view);
        var actions = new List<CommandOrCodeAction>();
        foreach (OfferedAction action in offered)
        {
            bool isFirst = action.IsCertain && action.Kind == CodeActionKind.QuickFix && !preferred;
            preferred |= isFirst;
            bool later = ResolvesLater(request.Profile);
            if (!later && RefactoringActions.IsKey(action.Key) && --atOnce < 0)
            {
                break;
            }

            WorkspaceEdit? edit = later ? null : Edits.Of(request, view.Set, action.Changes());
            if (edit is { } nothing && IsEmpty(nothing))
            {
                continue;
            }

            actions.Add(
                new CodeAction(action.Title)
                {
                    Kind = action.Kind,
                    Diagnostics = action.Problem is { } problem
                        ? [Diagnostics.Of(view.Set, problem, request.Profile, request.Positions)]
                        : null,
                    IsPreferred = isFirst && request.Profile.CodeActionPreferred ? true : null,
                    Edit = edit,
                    Data = later ? LspJson.Element<string[]>([view.Uri.Text, action.Key]) : null,
                }
            );
        }

        if (showsPlaces)
        {
            // Behind the last repair: a menu keeps the order.
            int repairs =
                actions.FindLastIndex(static action => action is CodeAction { Kind: CodeActionKind.QuickFix }) + 1;
            actions.InsertRange(repairs, PrintedPlaces.For(request, view, first, last));
        }

        return [.. actions];

        bool Wants(string kind) => only is null || only.Any(wanted => CodeActionKind.Matches(kind, wanted));
    }

    /// <summary>
    /// The problem that the client means, where it names just one but asks for the whole file: Kate does so, and makes every repair that it is
    /// given at once, which would repair the same place several times. Such a client (it knows no preferred repair) gets one repair.
    /// </summary>
    private static (int First, int Last, string? Code)? TheOneMeant(
        RequestContext request,
        FileView view,
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

    /// <summary>Whether edits change nothing, as those of a refactoring that does not hold.</summary>
    internal static bool IsEmpty(WorkspaceEdit edit) =>
        (edit.Changes is null || edit.Changes.Values.All(edits => edits.Length == 0))
        && (
            edit.DocumentChanges is null
            || edit.DocumentChanges.All(change => change is TextDocumentEdit { Edits.Length: 0 })
        );
}
