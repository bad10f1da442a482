using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>A place of a program, a cursor or a selection, for which refactorings are wanted; the providers add theirs.</summary>
internal sealed class RefactoringRequest(
    ProgramAnalysis program,
    SourceFile file,
    LinePosition start,
    LinePosition end,
    List<Refactoring> found
)
{
    public ProgramAnalysis Program { get; } = program;

    public SourceFile File { get; } = file;

    public SourceText Text => File.Text;

    public LinePosition Start { get; } = start;

    public LinePosition End { get; } = end;

    /// <summary>The provider that is asked now.</summary>
    public RefactoringProvider Provider { get; set; } = null!;

    /// <summary>Whether nothing is selected.</summary>
    public bool IsCursor => Start == End;

    /// <summary>Whether the selection, or the cursor, is within one line.</summary>
    public bool IsOneLine => LastLine == FirstLine;

    public int FirstLine => Start.Line;

    /// <summary>The last line of which something is selected.</summary>
    public int LastLine => End.Line > Start.Line && End.Column == 0 ? End.Line - 1 : End.Line;

    public LineSyntax Syntax(int line) => Program.SyntaxOf(File, line);

    public LineFacts Facts(int line) => Program.FactsOf(File, line);

    /// <summary>
    /// Whether a line counts as it is there: it is assembled, belongs to no macro's body, and nothing about it is in doubt. What is in
    /// doubt is resolved first, or a change would hide it.
    /// </summary>
    public bool IsPlain(int line) => IsPlain(File, line);

    public bool IsPlain(SourceFile file, int line) =>
        (
            Program.FactsOf(file, line).Role
            & (LineRole.Skipped | LineRole.Body | LineRole.AfterEnd | LineRole.BlockMember)
        ) == 0
        && QuietLines.Of(Program).IsQuiet(file, line);

    /// <summary>Whether the cursor touches, or the selection lies within, a stretch of the first line.</summary>
    public bool IsAt(TextSpan columns) =>
        IsOneLine
        && columns.Touches(Start.Column)
        && (IsCursor || (End.Line == Start.Line && columns.Touches(End.Column)));

    public void Add(string id, string title, WordEffect effect, Func<RefactoringPlan?> plan) =>
        found.Add(new Refactoring(Program, Provider, id, title, effect, plan));
}
