namespace AsmLsp.Core.Problems;

/// <content>Where words go.</content>
public static partial class Catalogue
{
    /// <summary>Two different words at one address.</summary>
    public static readonly ProblemKind WordPlacedTwice = Error(
        "word-placed-twice",
        "Address {0} already holds {1} from {2}; {3} from this line would replace it."
    );

    /// <summary>A word lies outside the chip's memory.</summary>
    public static readonly ProblemKind AddressOutsideChip = Error(
        "address-outside-chip",
        "Address {0} does not exist in {1}: {2}."
    );

    /// <summary>An address that cannot be one.</summary>
    public static readonly ProblemKind BadAddress = Error(
        "bad-address",
        "{0} is no address: program addresses run from 0 to 0xFFFF."
    );

    /// <summary>More words than can be.</summary>
    public static readonly ProblemKind TooManyWords = Error(
        "too-many-words",
        "{0} words from one line are more than any chip of this family holds."
    );

    /// <summary>A block is not closed.</summary>
    public static readonly ProblemKind BlockNotClosed = Error(
        "block-not-closed",
        "This {0} is never closed: {1} is missing."
    );

    /// <summary>A closing word without its opening one.</summary>
    public static readonly ProblemKind BlockNotOpened = Error(
        "block-not-opened",
        "{0} closes nothing: no {1} is open here."
    );

    /// <summary>The program ends without END.</summary>
    public static readonly ProblemKind EndMissing = Warning(
        "end-missing",
        "The program does not close with 'end'. Is its last page missing?"
    );

    /// <summary>No word at all.</summary>
    public static readonly ProblemKind NoProgram = Error(
        "no-program",
        "There is no instruction and no data in this text: nothing to build."
    );
}
