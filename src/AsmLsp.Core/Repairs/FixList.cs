using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>All repairs, in the order in which a menu shows them and in which they are made one after the other.</summary>
public static class FixList
{
    /// <summary>All repairs: first what makes the text whole, then its columns, then numbers and names.</summary>
    public static ImmutableArray<FixProvider> All { get; } =
    [
        new GarbledCharacters(),
        new TypographicCharacters(),
        new BlanksLost(),
        new HeaderOrFooter(),
        new WrappedLine(),
        new WrappedComment(),
        new EndInsideProgram(),
        new ProseInProgram(),
        new WholeTextIndented(),
        new FlatLabel(),
        new IndentOperation(),
        new MoveLabelToColumnOne(),
        new SplitInstructions(),
        new TwoLinesInOne(),
        new SplitWord(),
        new LabelOrOperation(),
        new LetterForDigit(),
        new WriteAsHexadecimal(),
        new WriteAsDecimal(),
        new SayHexadecimal(),
        new NumberInItsRadix(),
        new UseDefinedCase(),
        new NameTheChip(),
        new IncludeChipNames(),
        new ChooseInclude(),
        new AddComma(),
        new DigitInOperation(),
        new MisreadWord(),
        new NearestOperation(),
        new NearestName(),
        new AddDestination(),
        new CloseQuote(),
        new JoinSettings(),
        new CommentOutRest(),
        new CommentOutLine(),
        new DropWrongDigit(),
        new InsertConfiguration(),
        new AppendEnd(),
        new OpenDoubt(),
    ];

    /// <summary>The kinds of problem that have a repair, in the order of the repairs.</summary>
    internal static ImmutableArray<ProblemKind> Order { get; } = [.. All.SelectMany(p => p.Answers).Distinct()];
}
