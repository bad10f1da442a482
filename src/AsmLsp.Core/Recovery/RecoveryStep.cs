using System.Collections.Immutable;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;

namespace AsmLsp.Core.Recovery;

/// <summary>One step of recovery: the kinds of problem that are repaired together.</summary>
/// <param name="Name">What the step looks after.</param>
/// <param name="Kinds">Kinds whose certain repairs are made, and whose guesses are made with a doubt on the line.</param>
/// <param name="KindsWithDoubtOnly">Kinds whose certain repair is made with a doubt where it would change words.</param>
internal sealed record RecoveryStep(
    string Name,
    ImmutableArray<ProblemKind> Kinds,
    ImmutableArray<ProblemKind> KindsWithDoubtOnly
)
{
    /// <summary>Whether the doubts of the step are resolved before its certain repairs.</summary>
    public bool DoubtsFirst { get; init; }

    /// <summary>All steps in order: first what makes the text whole, then columns, then numbers and names.</summary>
    public static ImmutableArray<RecoveryStep> All { get; } =
    [
        // Before the characters: a misread quote has pieces that look like characters of typesetting.
        new("encoding", [Catalogue.GarbledCharacter], [Catalogue.GarbledCharacter]),
        new("characters", [Catalogue.TypographicCharacter], [Catalogue.TypographicCharacter]),
        new("the whole text", [Catalogue.WholeTextIndented], []),
        // Before headers and footers become comments: then they would look like the author's.
        new(
            "wrapped comments",
            [Catalogue.CommentWithoutMark, Catalogue.CommentOrInstruction],
            [Catalogue.CommentWithoutMark]
        )
        {
            DoubtsFirst = true,
        },
        new("page header or footer", [Catalogue.HeaderOrFooter], [Catalogue.HeaderOrFooter]),
        new(
            "wrapped lines",
            [Catalogue.ContinuedLine, Catalogue.TwoLinesInOne, Catalogue.LabelNamedLikeOperation],
            [Catalogue.ContinuedLine]
        ),
        new("remarks", [Catalogue.EndInsideProgram, Catalogue.ProseInProgram], []),
        new("columns", [Catalogue.OperationNotIndented, Catalogue.LabelIndented], []),
        new("numbers", [Catalogue.LetterForDigit, Catalogue.AmbiguousNumber], []),
        new(
            "names",
            [
                Catalogue.SplitWord,
                Catalogue.LabelOrOperation,
                Catalogue.UnknownOperation,
                Catalogue.NotAnOperation,
                Catalogue.ChipNotNamed,
                Catalogue.ChipNeeded,
                Catalogue.NameDiffersByCase,
                Catalogue.UndefinedName,
                Catalogue.MissingOperand,
            ],
            [Catalogue.UnknownOperation, Catalogue.UndefinedName]
        ),
    ];
}
