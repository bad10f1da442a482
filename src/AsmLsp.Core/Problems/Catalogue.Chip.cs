namespace AsmLsp.Core.Problems;

/// <content>The chip and its configuration.</content>
public static partial class Catalogue
{
    /// <summary>A chip that is not known.</summary>
    public static readonly ProblemKind UnknownChip = Error("unknown-chip", "No chip called {0} is known here.{1}");

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

    /// <summary>Two different chips are named.</summary>
    public static readonly ProblemKind ChipsDisagree = Warning(
        "chips-disagree",
        "The program names two chips: {0} here and {1} before. Memory and configuration are taken from {2}."
    );

    /// <summary>The program sets no configuration.</summary>
    public static readonly ProblemKind NoConfiguration = Warning(
        "no-configuration",
        "The program does not set the configuration word. On a blank {0} that means: {1}."
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
}
