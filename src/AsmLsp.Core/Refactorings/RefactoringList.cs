using System.Collections.Immutable;

namespace AsmLsp.Core.Refactorings;

/// <summary>All refactorings, in the order in which a menu shows them.</summary>
public static class RefactoringList
{
    /// <summary>All refactorings: what makes a program easier to read comes first, what undoes that and what changes words later.</summary>
    public static ImmutableArray<RefactoringProvider> All { get; } =
    [
        new NumbersToNames(),
        new ExtractConstant(),
        new NumberNotation(),
        new ConfigurationAsNames(),
        new ConfigurationAsNumber(),
        new EquatesToBlock(),
        new BlockToEquates(),
        new NameCase(),
        new OperationCase(),
        new ExpandShorthand(),
        new UseShorthand(),
        new ExpandMacroCall(),
        new InlineValue(),
        new NamesToNumbers(),
        new SelectBank(),
        new InvertSkip(),
        new InsertDelay(),
        new ChangeSetting(),
        new CommentIn(),
        new CommentOut(),
    ];
}
