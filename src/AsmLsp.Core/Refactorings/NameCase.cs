using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Refactorings;

/// <summary>Writes a name in the whole program, in all its files, in the capital and small letters that it is defined with.</summary>
internal sealed class NameCase : RefactoringProvider
{
    public override string Name => "name-case";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        if (!request.IsOneLine || NameAt(request) is not { } name)
            return;
        List<Problem> places = Places(request.Program, request, name);
        if (places.Count == 0)
            return;
        request.Add(
            "name",
            $"Write {name} as it is defined {Refactoring.Places(places.Count)} of the program where it is not",
            WordEffect.Same,
            () => Plan(places, name)
        );
    }

    private static RefactoringPlan Plan(List<Problem> places, string name)
    {
        var plan = new RefactoringPlan();
        foreach (Problem place in places)
            plan.Replace(place.Place.File, place.Place.Line, place.Place.Columns, name);
        return plan;
    }

    // The name at the cursor, as it is defined: it is either written so here, or reported to differ.
    private static string? NameAt(RefactoringRequest request)
    {
        Syntax.LineSyntax line = request.Syntax(request.FirstLine);
        for (int i = 0; i < line.EndOfCode; i++)
        {
            if (line.Tokens[i].Kind != Syntax.TokenKind.Name || !request.IsAt(line.Tokens[i].Span))
                continue;
            string word = line.TextOf(i);
            foreach (Problem problem in request.Program.Problems)
            {
                if (
                    problem.Kind == Catalogue.NameDiffersByCase
                    && (
                        problem.Arguments[1] == word
                        || (
                            problem.Place.File == request.File
                            && problem.Place.Line == request.FirstLine
                            && problem.Place.Columns == line.Tokens[i].Span
                        )
                    )
                )
                    return problem.Arguments[1];
            }
        }

        return null;
    }

    private static List<Problem> Places(ProgramAnalysis program, RefactoringRequest request, string name)
    {
        var found = new List<Problem>();
        foreach (Problem problem in program.Problems)
        {
            if (problem.Kind != Catalogue.NameDiffersByCase || problem.Arguments[1] != name)
                continue;
            string line = problem.Place.File.Text[problem.Place.Line].Text;
            // A name that came by a define is in the define; 'I' and 'O' may be digits that were misread.
            bool isSpelled =
                problem.Place.Columns.End <= line.Length
                && line.AsSpan(problem.Place.Columns.Start, problem.Place.Columns.Length)
                    .SequenceEqual(problem.Arguments[0]);
            if (isSpelled && name.Length > 1 && QuietLines.Of(program).IsQuiet(problem.Place.File, problem.Place.Line))
                found.Add(problem);
        }

        return found;
    }
}
