using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide;

/// <summary>What most features work on: one file, in the program that it belongs to.</summary>
/// <param name="Program">The program.</param>
/// <param name="Source">The file.</param>
public sealed record ProgramFile(ProgramModel Program, SourceFile Source)
{
    /// <summary>The program as this file sees it: in a program of several sources each has names of its own.</summary>
    public ProgramAnalysis Analysis => Program.Analysis.SeenFrom(Source);

    /// <summary>The text of the file.</summary>
    public SourceText Text => Source.Text;

    /// <summary>Everything that a person should know about the file.</summary>
    public ImmutableArray<Problem> Problems => Program.ProblemsOf(Source);

    /// <summary>The same with every place of every problem, for the fixes.</summary>
    public ImmutableArray<Problem> EachProblem => Program.EachProblemOf(Source);

    /// <summary>A line as the program reads it.</summary>
    public LineSyntax Line(int line) => Analysis.SyntaxOf(Source, line);

    /// <summary>The use of a name at a place, or null.</summary>
    public Reference? ReferenceAt(LinePosition at) => Analysis.References.At(Source, at.Line, at.Column);

    /// <summary>What there is to say about the thing at a place; null on blanks and comments.</summary>
    /// <param name="at">The place; columns are UTF-16.</param>
    /// <param name="options">What the surroundings say, such as the clock.</param>
    public Explanation? Explain(LinePosition at, ExplainOptions options) =>
        Explainer.At(Analysis, Source, at.Line, at.Column, options);
}
