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
        "{0} is not an address: program addresses run from 0 to 0xFFFF."
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
        "This text has no instruction and no data: there is nothing to build."
    );

    /// <summary>Bytes for the EEPROM that are placed elsewhere.</summary>
    public static readonly ProblemKind EepromBytesOutside = Warning(
        "eeprom-bytes-outside",
        "'de' makes bytes for the EEPROM, but this line is at {0}, in {1}. If the EEPROM is meant, write 'org 0x2100' before it."
    );

    /// <summary>An instruction in the EEPROM.</summary>
    public static readonly ProblemKind InstructionInEeprom = Warning(
        "instruction-in-eeprom",
        "{0} makes an instruction, but {1} is in the EEPROM, which keeps bytes: only {2} remains. For bytes write 'de'."
    );

    /// <summary>A word in the EEPROM that is no byte.</summary>
    public static readonly ProblemKind EepromWordTooLarge = Warning(
        "eeprom-word-too-large",
        "{0} does not fit into a byte of the EEPROM at {1}: only {2} remains. For text write 'de'."
    );

    /// <summary>A section of bytes that the tool places in the EEPROM.</summary>
    public static readonly ProblemKind SectionInEeprom = Information(
        "section-in-eeprom",
        "The section {0} holds only bytes of 'de', so it is placed in the EEPROM, at {1}."
    );

    /// <summary>Program words in a section for registers.</summary>
    public static readonly ProblemKind CodeInDataSection = Warning(
        "code-in-data-section",
        "{0} makes a word of the program, but this is a section for registers. The word is placed at {1}. Write 'code' before this line."
    );

    /// <summary>An address in a section for registers.</summary>
    public static readonly ProblemKind OrgInDataSection = Warning(
        "org-in-data-section",
        "'org' is in a section for registers. 'res' continues at {0}. For the program, write 'code' before this line."
    );
}
