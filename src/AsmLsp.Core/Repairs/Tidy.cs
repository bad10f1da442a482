using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Every safe repair of a file's layout, then its columns: what the command line and the editor both call tidy.</summary>
public static class Tidy
{
    private const int MostRounds = 8;

    /// <summary>The kinds of problem that are about the layout and the printed page, not about the meaning.</summary>
    public static ImmutableArray<ProblemKind> Kinds { get; } =
    [
        Catalogue.GarbledCharacter,
        Catalogue.TypographicCharacter,
        Catalogue.BlanksLost,
        Catalogue.HeaderOrFooter,
        Catalogue.ContinuedLine,
        Catalogue.CommentWithoutMark,
        Catalogue.WholeTextIndented,
        Catalogue.OperationNotIndented,
        Catalogue.LabelIndented,
    ];

    /// <summary>The file in good layout, with the repairs that were made on the way; moved columns are not listed.</summary>
    public static FixAllResult Run(ProgramAnalysis program, SourceFile file, FormatOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(file);
        var session = new RepairSession(program, file);
        // A line in its columns may show a fault that could not be seen before: tidied twice must be tidied once.
        string before;
        int round = 0;
        do
        {
            if (++round > MostRounds)
                return new FixAllResult(file.Text, []);
            session.TryAgain();
            before = session.File.Text.ToString();
            session.MakeCertain(kind => Kinds.Contains(kind));
            session.Make(Formatter.Format(session.Program, session.File, options));
        } while (session.File.Text.ToString() != before);

        return new FixAllResult(
            session.File.Text,
            [.. session.Repairs.OrderBy(r => r.Line).Select(r => new FixChange(r.Line, r.Kind, r.What))]
        );
    }
}
