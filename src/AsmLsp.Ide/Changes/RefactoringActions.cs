using System.Globalization;
using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Changes;

/// <summary>The refactorings for a place of a file, as actions that can be chosen.</summary>
public static class RefactoringActions
{
    /// <summary>What a person reads where a refactoring, once worked out, turns out not to do what it says.</summary>
    public const string DoesNotHold = "Here this would make other words or a new problem, so nothing was changed.";

    private const string KeyStart = "refactor ";

    /// <summary>A program of so many lines is assembled in a few milliseconds; a client that takes its edits at once gets as many as that allows.</summary>
    private const int LinesAtOnce = 100_000;

    private const int FewestAtOnce = 4;

    /// <summary>The refactorings for a cursor or a selection, in menu order.</summary>
    /// <param name="file">The file.</param>
    /// <param name="start">Where the selection starts.</param>
    /// <param name="end">Where it ends; the start where nothing is selected.</param>
    /// <param name="wants">Whether a kind of action is wanted.</param>
    /// <param name="onlyCheap">Whether the editor asks of its own accord, so that only what costs next to nothing is looked for.</param>
    public static IEnumerable<OfferedAction> For(
        ProgramFile file,
        LinePosition start,
        LinePosition end,
        Func<ActionKind, bool> wants,
        bool onlyCheap
    )
    {
        if (!wants(ActionKind.Extract) && !wants(ActionKind.Inline) && !wants(ActionKind.Rewrite))
        {
            return [];
        }

        // A file made to be included, seen without its program: how its numbers are read and what its names mean is not known.
        return RefactoringFinder
            .For(file.Analysis, file.Source, start, end, kind => wants(KindOf(kind)), onlyCheap)
            .Where(found => !file.Program.IsFragment || found.IsTextOnly)
            .Select(found => Offered(found, start, end));
    }

    /// <summary>The refactoring with a key in a file as it is now, or null where it is not offered any more; null too for keys of other actions.</summary>
    public static OfferedAction? Find(ProgramFile file, string key)
    {
        // refactor 3 0 3 5 provider/which title
        string[] parts = key.Split(' ', 7);
        if (
            !IsKey(key)
            || parts.Length < 7
            || !Number(1, out int line)
            || !Number(2, out int column)
            || !Number(3, out int endLine)
            || !Number(4, out int endColumn)
        )
        {
            return null;
        }

        return For(file, new(line, column), new(endLine, endColumn), _ => true, false)
            .FirstOrDefault(action => action.Key == key);

        bool Number(int part, out int value) =>
            int.TryParse(parts[part], NumberStyles.None, CultureInfo.InvariantCulture, out value);
    }

    /// <summary>Whether a key is that of a refactoring.</summary>
    public static bool IsKey(string key) => key.StartsWith(KeyStart, StringComparison.Ordinal);

    /// <summary>How many refactorings are worked out in one answer, for clients that can't fetch their edits later.</summary>
    public static int MostAtOnce(ProgramFile file) =>
        Math.Max(FewestAtOnce, LinesAtOnce / Math.Max(1, file.Analysis.Files.Sum(file => file.Text.LineCount)));

    private static OfferedAction Offered(Refactoring found, LinePosition start, LinePosition end) =>
        new(
            found.Title,
            KindOf(found.Kind),
            null,
            false,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{KeyStart}{start.Line} {start.Column} {end.Line} {end.Column} {found.Id} {found.Title}"
            ),
            () => found.Compute()
        );

    private static ActionKind KindOf(RefactoringKind kind) =>
        kind switch
        {
            RefactoringKind.Extract => ActionKind.Extract,
            RefactoringKind.Inline => ActionKind.Inline,
            _ => ActionKind.Rewrite,
        };
}
