namespace AsmLsp.Core.Problems;

/// <content>The chip and its configuration.</content>
public static partial class Catalogue
{
    /// <summary>A chip that is not known.</summary>
    public static readonly ProblemKind UnknownChip = Error(
        "unknown-chip",
        "No chip called {0} is known here, so its registers and settings are not known either.{1} Name a chip that 'relist chips' lists."
    );

    /// <summary>A directive that needs a chip, without one.</summary>
    public static readonly ProblemKind ChipNeeded = Error(
        "chip-needed",
        "{0} depends on the chip, but the program does not say which chip it is for. Add a line like ' list p=16f84a' at the top."
    );

    /// <summary>A bank is selected that the chip does not have.</summary>
    public static readonly ProblemKind BankMissing = Warning(
        "bank-missing",
        "{0} lies in bank {1}, but {2} has only {3} banks: bank {4} is selected instead."
    );

    /// <summary>Two different chips are named, and it matters which.</summary>
    public static readonly ProblemKind ChipsDisagree = Error(
        "chips-disagree",
        "The program names two chips: {0} here and {1} before. Make both lines name the chip that is in the socket."
    );

    /// <summary>Two different chips are named, but this program is the same for both.</summary>
    public static readonly ProblemKind ChipsAlike = Warning(
        "chips-alike",
        "The program names two chips: {0} here and {1} before. Its words are the same for both. Make both lines name the chip that is in the socket."
    );

    /// <summary>The chip given from outside is not the one that the program names.</summary>
    public static readonly ProblemKind ChipForced = Warning(
        "chip-forced",
        "This line names the {0}, but the chip asked for is {1}. Everything is taken from {1}."
    );

    /// <summary>The program sets no configuration.</summary>
    public static readonly ProblemKind NoConfiguration = Warning(
        "no-configuration",
        "The program does not set the configuration word. On a blank {0} that means: {1}.{2}"
    );

    /// <summary>The configuration is set twice, differently.</summary>
    public static readonly ProblemKind ConfigurationSetTwice = Warning(
        "configuration-set-twice",
        "The configuration word is already set to {0}; this line sets it to {1}, which is used."
    );

    /// <summary>A configuration value has more bits than the word.</summary>
    public static readonly ProblemKind ConfigurationTooLarge = Warning(
        "configuration-too-large",
        "{0} has more than 14 bits: the configuration word is {1}."
    );

    /// <summary>Configuration symbols joined by something else than <c>&amp;</c>.</summary>
    public static readonly ProblemKind ConfigurationJoinedWrongly = Warning(
        "configuration-joined-wrongly",
        "Configuration settings are joined by '&'. With '{0}' they do not give the word that they say."
    );

    /// <summary>The program sets the factory's calibration word.</summary>
    public static readonly ProblemKind CalibrationOverwritten = Warning(
        "calibration-overwritten",
        "{0} is the last word of the {1}, where the factory keeps a value for the internal oscillator. This line overwrites it. Move the program, or write the value of your chip here."
    );

    /// <summary>The program calls the factory's calibration word.</summary>
    public static readonly ProblemKind CalibrationCalled = Warning(
        "calibration-called",
        "This calls {0}, where the {1} keeps a factory value for {2}. Read the chip before you erase it: without that word the program hangs here."
    );

    /// <summary>The configuration word holds bits that the factory set.</summary>
    public static readonly ProblemKind FactoryBits = Information(
        "factory-bits",
        "{0} in the configuration word of the {1} is set by the factory. Read the chip and write it down before you erase it."
    );

    /// <summary>Code protection is on.</summary>
    public static readonly ProblemKind CodeProtectionOn = Warning(
        "code-protection-on",
        "Code protection is on ({0}): the chip cannot be read back to check or copy it."
    );

    /// <summary>Clock and oscillator setting do not fit each other.</summary>
    public static readonly ProblemKind ClockDoesNotFit = Warning("clock-does-not-fit", "{0}");

    /// <summary>The clock is faster than the speed grade of the chip on the board.</summary>
    public static readonly ProblemKind ClockAboveSpeedGrade = Warning(
        "clock-above-speed-grade",
        "The chip on the board is marked {0}, which is made for up to {1}, but the clock is {2}."
    );

    /// <summary>The chip on the board is another one.</summary>
    public static readonly ProblemKind MarkingDisagrees = Warning(
        "marking-disagrees",
        "The chip on the board is marked {0}, a {1}, but the program is for the {2}."
    );
}
