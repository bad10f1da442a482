using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>What a refactoring does to the shape of a program; editors sort their menus by it.</summary>
public enum RefactoringKind
{
    /// <summary>Gives something a name of its own.</summary>
    Extract,

    /// <summary>Puts what a name means in place of the name.</summary>
    Inline,

    /// <summary>Says the same in another way.</summary>
    Rewrite,
}

/// <summary>What a refactoring does to the words of the program.</summary>
public enum WordEffect
{
    /// <summary>Every word stays as it is, at its address; proven by assembling.</summary>
    Same,

    /// <summary>The program gets other words.</summary>
    Changes,

    /// <summary>The lines concerned make no words themselves, but others may depend on them.</summary>
    MayChange,
}

/// <summary>Edits of one file, by offsets of its text, in ascending order, without overlap.</summary>
public sealed record FileEdits(SourceFile File, ImmutableArray<TextEdit> Edits);

/// <summary>A change of a program's text that a person may ask for; nothing has to be wrong for it.</summary>
public sealed class Refactoring
{
    private readonly ProgramAnalysis program;
    private readonly Func<RefactoringPlan?> plan;

    internal Refactoring(
        ProgramAnalysis program,
        RefactoringProvider provider,
        string id,
        string title,
        WordEffect effect,
        Func<RefactoringPlan?> plan
    )
    {
        this.program = program;
        this.plan = plan;
        Kind = provider.Kind;
        IsTextOnly = provider.IsTextOnly;
        Id = $"{provider.Name}/{id}";
        Effect = effect;
        Title =
            OneLine(title)
            + effect switch
            {
                WordEffect.Same => " (same words)",
                WordEffect.Changes => " (changes the program's words)",
                _ => " (may change the program's words)",
            };
    }

    /// <summary>What it does, as a menu shows it; says whether the program's words change.</summary>
    public string Title { get; }

    /// <summary>In how many places something happens, for people.</summary>
    internal static string Places(int count) =>
        count switch
        {
            1 => "in the one place",
            2 => "in both places",
            _ => $"in all {Show.Decimal(count)} places",
        };

    /// <summary>What kind of change it is.</summary>
    public RefactoringKind Kind { get; }

    /// <summary>Names it among those of its place: <c>provider/which</c>, without blanks.</summary>
    public string Id { get; }

    /// <summary>Whether it needs to know nothing of the program, so that it can be made in a part that is seen alone.</summary>
    public bool IsTextOnly { get; }

    /// <summary>What it does to the program's words.</summary>
    public WordEffect Effect { get; }

    /// <summary>
    /// Works out the edits and compares them with the program, which is assembled again for that; empty where they would not do what the
    /// title says, so that nothing may be changed.
    /// </summary>
    public ImmutableArray<FileEdits> Compute() =>
        plan() is { } made ? RefactoringGuard.Check(program, made, Effect) : [];

    // Tabs and rows of blanks come along with pieces of the source.
    private static string OneLine(string title) =>
        string.Join(' ', title.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
}
