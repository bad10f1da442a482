using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>The edits of a refactoring before they are checked, and what the check has to allow or prove.</summary>
internal sealed class RefactoringPlan
{
    private readonly List<(SourceFile File, TextEdit Edit)> edits = [];

    /// <summary>Names that the program does not have any more afterward.</summary>
    public HashSet<string> Gone { get; } = new(StringComparer.Ordinal);

    /// <summary>Whether lines with a doubt or an error may be touched: what is done leaves both as visible as they were.</summary>
    public bool TouchesAnything { get; init; }

    /// <summary>Compares the program before with the one after where words change; null where nothing more is to be proven.</summary>
    public Func<ProgramAnalysis, bool>? Proof { get; init; }

    public bool IsEmpty => edits.Count == 0;

    /// <summary>Replaces columns of a line.</summary>
    public void Replace(SourceFile file, int line, int start, int end, string newText) =>
        edits.Add(
            (
                file,
                new TextEdit(
                    TextSpan.FromBounds(file.Text.LineStart(line) + start, file.Text.LineStart(line) + end),
                    newText
                )
            )
        );

    public void Replace(SourceFile file, int line, TextSpan columns, string newText) =>
        Replace(file, line, columns.Start, columns.End, newText);

    /// <summary>Puts whole lines (without line ends) before a line.</summary>
    public void InsertBefore(SourceFile file, int line, params IEnumerable<string> lines)
    {
        string ending = file.Text.UsualEnding;
        Replace(file, line, 0, 0, string.Concat(lines.Select(l => l + ending)));
    }

    /// <summary>Puts whole lines (without line ends) in place of lines from first to last.</summary>
    public void ReplaceLines(SourceFile file, int first, int last, IReadOnlyList<string> lines)
    {
        string ending = file.Text.UsualEnding;
        int end = file.Text.LineStart(last) + file.Text[last].Text.Length;
        edits.Add(
            (file, new TextEdit(TextSpan.FromBounds(file.Text.LineStart(first), end), string.Join(ending, lines)))
        );
    }

    /// <summary>The edits file by file, in order; two of the same place count once.</summary>
    public ImmutableArray<FileEdits> ToEdits() =>
        [
            .. edits
                .GroupBy(e => e.File)
                .Select(g => new FileEdits(
                    g.Key,
                    [
                        .. g.Select(e => e.Edit)
                            .OrderBy(e => e.Span.Start)
                            .ThenBy(e => e.Span.End)
                            .DistinctBy(e => (e.Span, e.NewText)),
                    ]
                )),
        ];
}
