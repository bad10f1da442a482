namespace AsmLsp.Core.Syntax;

/// <summary>What is true of a word of the language wherever it is; <see cref="OperationWords"/> says it of each word once.</summary>
[Flags]
public enum WordTraits
{
    /// <summary>Nothing of the below.</summary>
    None = 0,

    /// <summary>Is alone on its line: nothing that matters follows it.</summary>
    NoOperand = 1 << 0,

    /// <summary>Means nothing without an operand.</summary>
    NeedsOperand = 1 << 1,

    /// <summary>Means something with a number and without one.</summary>
    NumberIsOptional = 1 << 2,

    /// <summary>Places data: numbers or text given as words of the memory.</summary>
    PlacesData = 1 << 3,

    /// <summary>A directive that makes words, as an instruction does: data, filling, the choice of a bank or a page.</summary>
    MakesWords = 1 << 4,

    /// <summary>Says where words and variables go, or makes them: without it the program differs.</summary>
    Places = 1 << 5,

    /// <summary>A label in front of it is natural.</summary>
    TakesLabel = 1 << 6,

    /// <summary>Its operands are values, so a name in them must be known.</summary>
    TakesValues = 1 << 7,

    /// <summary>Its operand is a name of any kind, even a word of the language.</summary>
    TakesNames = 1 << 8,

    /// <summary>Its operand is text for people, or the name of a file.</summary>
    TakesText = 1 << 9,

    /// <summary>The rest of its line is of a kind of its own and cannot be judged as operands.</summary>
    FreeOperands = 1 << 10,

    /// <summary>Opens lines that another word closes: a choice, a loop, a macro.</summary>
    OpensBody = 1 << 11,

    /// <summary>Closes a choice, a loop or a macro.</summary>
    ClosesBody = 1 << 12,

    /// <summary>A part of a choice between lines.</summary>
    Conditional = 1 << 13,

    /// <summary>Opens a section that the sections of its kind are joined with.</summary>
    Section = 1 << 14,

    /// <summary>Variables follow, each taking the next register.</summary>
    HoldsVariables = 1 << 15,

    /// <summary>Belongs in the head of a program: chip, names of the chip, radix.</summary>
    Head = 1 << 16,

    /// <summary>No word of the program depends on its operands.</summary>
    Harmless = 1 << 17,

    /// <summary>People give it a column of their own, and the formatter leaves it there.</summary>
    KeepsColumn = 1 << 18,

    /// <summary>A word of English sentences too.</summary>
    Natural = 1 << 19,

    /// <summary>A word that begins or ends many a sentence, so that a line with it may be one.</summary>
    FrequentInProse = 1 << 20,

    /// <summary>A word of another language than English.</summary>
    Foreign = 1 << 21,

    /// <summary>A word of programmers for one to three instructions of the chip.</summary>
    Shorthand = 1 << 22,
}
