using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Fixes;

/// <summary>
/// Compares repairs with sources before and after. A <c>$0</c> in the source marks the caret: the problem meant is the one
/// whose line holds it.
/// </summary>
internal static class FixCheck
{
    public static ProgramAnalysis Assemble(string source) =>
        Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));

    /// <summary>Holds that a repair of a kind is offered at the caret, so sure, and what it makes.</summary>
    public static void Offers(ProblemKind kind, Certainty certainty, string source, string after, int index = 0)
    {
        Fix fix =
            Find(kind, source).ElementAtOrDefault(index)
            ?? throw new Xunit.Sdk.XunitException($"No repair for {kind}.\n{Show(source)}");
        Assert.Equal(after, fix.File.Text.WithEdits(fix.Edits).ToString());
        Assert.Equal(certainty, fix.Certainty);
    }

    /// <summary>Holds that no repair of a kind is offered at the caret.</summary>
    public static void OffersNothing(ProblemKind kind, string source)
    {
        Fix[] found = Find(kind, source);
        Assert.True(found.Length == 0, $"{string.Join(", ", found.Select(f => f.Title))}\n{Show(source)}");
    }

    /// <summary>The titles of the repairs of a kind that are offered at the caret.</summary>
    public static string[] TitlesAt(ProblemKind kind, string source) => [.. Find(kind, source).Select(f => f.Title)];

    /// <summary>The problems of a source as a person sees them, as 'line code', without those that only concern a snippet.</summary>
    public static string[] ProblemsOf(string source)
    {
        ProgramAnalysis program = Assemble(source);
        return
        [
            .. ProgramProblems
                .OfSource(program, program.Root)
                .Where(p =>
                    p.Kind != Catalogue.EndMissing
                    && p.Kind != Catalogue.NoConfiguration
                    && p.Kind != Catalogue.NoProgram
                    && p.Kind != Catalogue.ChipNamesNotIncluded
                )
                .Select(p => $"{p.Place.Line + 1} {p.Code}"),
        ];
    }

    /// <summary>The source after all certain repairs.</summary>
    public static string FixedAll(string source)
    {
        ProgramAnalysis program = Assemble(source);
        return FixAll.Run(program, program.Root).NewText.ToString();
    }

    /// <summary>The words of a source, as '0:3005 2800'.</summary>
    public static string Words(ProgramAnalysis program) =>
        string.Join(" ", program.Image.Words.Select(w => $"{w.Address:X}:{w.Word:X4}"));

    private static Fix[] Find(ProblemKind kind, string source)
    {
        int caret = source.IndexOf("$0", StringComparison.Ordinal);
        string text = caret < 0 ? source : source.Remove(caret, 2);
        ProgramAnalysis program = Assemble(text);
        int line = caret < 0 ? -1 : program.Root.Text.PositionAt(caret).Line;
        return
        [
            .. ProgramProblems
                .OfSource(program, program.Root)
                .Where(p => p.Kind == kind && (line < 0 || p.Place.Line == line))
                .SelectMany(p => FixFinder.For(program, p))
                .Where(f => f.Answers == kind),
        ];
    }

    private static string Show(string source)
    {
        ProgramAnalysis program = Assemble(source.Replace("$0", "", StringComparison.Ordinal));
        return source
            + "\n"
            + string.Join(
                "\n",
                ProgramProblems
                    .OfSource(program, program.Root)
                    .Select(p => $"{p.Place.Line + 1}:{p.Place.Columns.Start} {p.Severity} {p.Code} {p.Message}")
            );
    }
}
