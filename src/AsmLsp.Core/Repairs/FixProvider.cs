using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Offers repairs for one or a few kinds of problem.</summary>
public abstract class FixProvider
{
    private protected FixProvider() { }

    /// <summary>The kinds of problem that it answers.</summary>
    public abstract ImmutableArray<ProblemKind> Answers { get; }

    internal abstract void Offer(FixRequest request);
}

/// <summary>One problem for which repairs are wanted; the providers add theirs.</summary>
internal sealed class FixRequest(ProgramAnalysis program, Problem problem, List<Fix> found)
{
    public ProgramAnalysis Program { get; } = program;

    public Problem Problem { get; } = problem;

    public SourceFile File => Problem.Place.File;

    public SourceText Text => File.Text;

    public int Line => Problem.Place.Line;

    public string LineText => File.Text[Line].Text;

    public LineSyntax Syntax => Program.SyntaxOf(File, Line);

    /// <summary>The characters that the problem is about.</summary>
    public string Marked
    {
        get
        {
            TextSpan span = Problem.Place.Columns;
            string line = LineText;
            return span.End <= line.Length ? line.Substring(span.Start, span.Length) : "";
        }
    }

    /// <summary>An edit of the problem's line, by its columns.</summary>
    public TextEdit Edit(int start, int end, string newText) => Edit(Line, start, end, newText);

    public TextEdit Edit(int line, int start, int end, string newText) =>
        new(TextSpan.FromBounds(Text.LineStart(line) + start, Text.LineStart(line) + end), newText);

    public TextEdit ReplaceMarked(string newText) => new(Problem.Place.Span, newText);

    public void Certain(string title, params ReadOnlySpan<TextEdit> edits) =>
        found.Add(new Fix(title, Certainty.Certain, Problem.Kind, File, [.. edits]));

    public void Guess(string title, Doubt? doubt, params ReadOnlySpan<TextEdit> edits) =>
        found.Add(new Fix(title, Certainty.Guess, Problem.Kind, File, [.. edits]) { Doubt = doubt });

    public void GuessName(NameGuess evidence, string name, Doubt? doubt) =>
        found.Add(
            new Fix($"Write {name}", Certainty.Guess, Problem.Kind, File, [ReplaceMarked(name)])
            {
                Doubt = doubt,
                NameGuess = evidence,
            }
        );

    public void Add(Certainty certainty, string title, Doubt? doubt, params ReadOnlySpan<TextEdit> edits) =>
        found.Add(new Fix(title, certainty, Problem.Kind, File, [.. edits]) { Doubt = doubt });
}
