using System.Collections.Immutable;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>How sure a repair is.</summary>
public enum Certainty
{
    /// <summary>Nothing else can have been meant; made without asking, and reported.</summary>
    Certain,

    /// <summary>Likely; a person decides, or the line carries a doubt.</summary>
    Guess,
}

/// <summary>What a repair that writes another name relies on.</summary>
public enum NameGuess
{
    /// <summary>It writes no other name.</summary>
    None,

    /// <summary>The other name looks alike: OCR could have read one for the other.</summary>
    LooksAlike,

    /// <summary>The other name differs in few letters.</summary>
    IsNear,
}

/// <summary>A repair of one problem, as edits of one file.</summary>
/// <param name="Title">What the repair does, as a menu shows it.</param>
/// <param name="Certainty">How sure it is.</param>
/// <param name="Answers">The kind of problem that it answers.</param>
/// <param name="File">The file that the edits belong to.</param>
/// <param name="Edits">The edits, by offsets of the file's text, in ascending order, without overlap.</param>
public sealed record Fix(
    string Title,
    Certainty Certainty,
    ProblemKind Answers,
    SourceFile File,
    ImmutableArray<TextEdit> Edits
)
{
    /// <summary>The doubt that a line gets when the repair is made without asking; null leaves it to <see cref="Title"/>.</summary>
    public Doubt? Doubt { get; init; }

    /// <summary>Whether it writes another name for one that nothing defines: where the text is clear, the name is right and its definition is missing.</summary>
    public NameGuess NameGuess { get; init; }

    /// <summary>The doubt with the code of the problem after it; the title where the repair has none of its own.</summary>
    internal Doubt DoubtOrTitle => (Doubt ?? new Doubt(Title)) with { Evidence = Answers.Code };
}
