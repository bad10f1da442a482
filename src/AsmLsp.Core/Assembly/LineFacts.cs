namespace AsmLsp.Core.Assembly;

/// <summary>How a line was taken.</summary>
[Flags]
public enum LineRole
{
    /// <summary>As it reads.</summary>
    None = 0,

    /// <summary>Left out by a choice around it.</summary>
    Skipped = 1,

    /// <summary>A member of a block of variables.</summary>
    BlockMember = 2,

    /// <summary>Inside the definition of a macro or loop.</summary>
    Body = 4,

    /// <summary>A call of a macro.</summary>
    MacroCall = 8,

    /// <summary>After the end of the program.</summary>
    AfterEnd = 16,

    /// <summary>A lone name that is a label though it is indented.</summary>
    LoneLabel = 32,

    /// <summary>A word in column 1 that is the operation, against the column.</summary>
    FirstWordIsOperation = 64,
}

/// <summary>What assembling a line of a file came to.</summary>
/// <param name="Address">Address of its first word, or -1 where it made none.</param>
/// <param name="Words">Number of words, macro calls included.</param>
/// <param name="Radix">Base of bare numbers on this line: 2, 8, 10 or 16.</param>
/// <param name="Role">How the line was taken.</param>
/// <param name="Location">The address of the next word when the line was met.</param>
public readonly record struct LineFacts(int Address, int Words, int Radix, LineRole Role, int Location);
