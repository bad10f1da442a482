using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>What most requests work on: one file, in the program that it belongs to, as of one snapshot.</summary>
/// <param name="Set">All programs of the snapshot.</param>
/// <param name="Program">The program that the file belongs to.</param>
/// <param name="File">The file.</param>
/// <param name="Document">The file as it is open in the editor; null where it is not.</param>
/// <param name="Uri">The file's address as the client spells it.</param>
internal sealed record FileView(
    ProgramSet Set,
    ProgramVersion Program,
    SourceFile File,
    OpenDocument? Document,
    DocumentUri Uri
)
{
    /// <summary>The program as this file sees it: in a program of several sources each has names of its own.</summary>
    public ProgramAnalysis Analysis => Program.Analysis.SeenFrom(File);

    public SourceText Text => File.Text;

    /// <summary>Everything that a person should know about the file.</summary>
    public ImmutableArray<Problem> Problems => Program.ProblemsOf(File);

    /// <summary>What the project file, else the settings, say about the clock.</summary>
    public ExplainOptions ExplainOptions =>
        (Program.Project.File.Clock ?? Set.Snapshot.Settings.Clock) is { } clock
            ? new() { ClockHertz = ClockFinder.ReadRate(clock) }
            : ExplainOptions.Default;

    /// <summary>The same with every place of every problem, for the repairs.</summary>
    public ImmutableArray<Problem> EachProblem => Program.EachProblemOf(File);

    /// <summary>A line as the program reads it.</summary>
    public LineSyntax Line(int line) => Analysis.SyntaxOf(File, line);

    /// <summary>The use of a name at a place, or null.</summary>
    public Reference? ReferenceAt(LinePosition at) => Analysis.References.At(File, at.Line, at.Column);
}
