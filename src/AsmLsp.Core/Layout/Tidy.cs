using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Layout;

/// <summary>Every safe repair of a file's layout, then its columns: what the command line and the editor both call tidy.</summary>
public static class Tidy
{
    /// <summary>The kinds of problem that are about the layout and the printed page, not about the meaning.</summary>
    public static ImmutableArray<ProblemKind> Kinds { get; } =
    [
        Catalogue.GarbledCharacter,
        Catalogue.TypographicCharacter,
        Catalogue.PageFurniture,
        Catalogue.ContinuedLine,
        Catalogue.CommentWithoutMark,
        Catalogue.WholeTextIndented,
        Catalogue.OperationInLabelColumn,
        Catalogue.LabelNotInColumnOne,
    ];

    /// <summary>The file in good layout, with the repairs that were made on the way; moved columns are not listed.</summary>
    public static FixAllResult Run(ProgramAnalysis program, SourceFile file, FormatOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(file);
        var session = new RepairSession(program, file);
        session.MakeCertain(kind => Kinds.Contains(kind));
        session.Make(Formatter.Format(session.Program, session.File, options));
        return new FixAllResult(
            session.File.Text,
            [.. session.Repairs.OrderBy(r => r.Line).Select(r => new FixChange(r.Line, r.Kind, r.What))]
        );
    }
}
