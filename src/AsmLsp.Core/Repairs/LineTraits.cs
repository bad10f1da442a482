namespace AsmLsp.Core.Repairs;

/// <summary>What a line looks like to a reader, taken from its characters alone.</summary>
[Flags]
internal enum LineTraits
{
    None = 0,

    /// <summary>Nothing but blanks.</summary>
    Blank = 1,

    /// <summary>A comment and nothing else.</summary>
    CommentOnly = 2,

    /// <summary>Ends with a comment.</summary>
    HasComment = 4,

    /// <summary>Has a character of typesetting, or of another encoding.</summary>
    Unusual = 8,

    /// <summary>Its code breaks off: after a comma, an operator or an open parenthesis.</summary>
    EndsOpen = 16,

    /// <summary>Its code starts with what only can continue: an operator, a comma, a closing parenthesis.</summary>
    StartsInside = 32,

    /// <summary>A name and nothing else.</summary>
    LoneName = 64,

    /// <summary>An operation of the language with operands of its shape.</summary>
    CodeLike = 128,

    /// <summary>Carries the mark of a doubt.</summary>
    Doubt = 256,

    /// <summary>Has a number with letters that look like digits.</summary>
    OddNumber = 512,

    /// <summary>Words side by side, as in a sentence.</summary>
    Prose = 1024,

    /// <summary>The operation is <c>end</c>.</summary>
    End = 2048,

    /// <summary>Digits and hardly more: a page number is so.</summary>
    NumberOnly = 4096,

    /// <summary>Has a word that sentences are made of and programs are not.</summary>
    FunctionWord = 8192,

    /// <summary>Starts with a form feed, as a printer's page does.</summary>
    FormFeed = 16384,

    /// <summary>Nothing but plain words, the operation too: <c>return</c>, <c>call me</c>, <c>motor end</c>.</summary>
    Wordy = 32768,

    /// <summary>The operation is a word of sentences too; it may still have operands like any other.</summary>
    NaturalOperation = 65536,

    /// <summary>Has digits with such a letter among them, beside names that could be meant as digits.</summary>
    OddDigits = 131072,

    /// <summary>Has a second operation after the first one's operands, or after an operation in the label's place.</summary>
    SecondOperation = 262144,
}
