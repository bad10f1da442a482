namespace AsmLsp.Core.Problems;

/// <content>Names: known, unknown, doubled.</content>
public static partial class Catalogue
{
    /// <summary>A name that nothing defines.</summary>
    public static readonly ProblemKind UndefinedName = Error(
        "undefined-name",
        "{0} is not known: no label, no value and no register of this chip has that name.{1}"
    );

    /// <summary>A register name is used and no chip is named.</summary>
    public static readonly ProblemKind ChipNotNamed = Error(
        "chip-not-named",
        "{0} looks like a register or bit of a chip, but the program does not say which chip it is for. Add a line like ' list p=16f84a' at the top."
    );

    /// <summary>A name differs from the defined one by case only.</summary>
    public static readonly ProblemKind NameDiffersByCase = Information(
        "name-differs-by-case",
        "{0} is taken as {1}: the two differ in capital letters only."
    );

    /// <summary>A name is defined twice.</summary>
    public static readonly ProblemKind NameDefinedTwice = Error(
        "name-defined-twice",
        "{0} is already defined ({1}). A name can mean only one thing."
    );

    /// <summary>An operation that is neither instruction, directive nor macro.</summary>
    public static readonly ProblemKind UnknownOperation = Error(
        "unknown-operation",
        "{0} is not an instruction, directive or macro of this program.{1}"
    );

    /// <summary>A name that may not be one.</summary>
    public static readonly ProblemKind BadName = Error(
        "bad-name",
        "'{0}' cannot be a name. Names are made of letters, digits and _, and do not start with a digit."
    );

    /// <summary>A directive needs a name before it.</summary>
    public static readonly ProblemKind NameMissing = Error(
        "name-missing",
        "{0} gives a value to a name, but there is no name before it."
    );

    /// <summary>A label is before a directive that takes none.</summary>
    public static readonly ProblemKind LabelWithoutUse = Information(
        "label-without-use",
        "{0} is before {1}, which takes no label. It gets the address of the next word."
    );

    /// <summary>Register names of the chip are used though its names were never included.</summary>
    public static readonly ProblemKind ChipNamesNotIncluded = Information(
        "chip-names-not-included",
        "{0} is taken from the chip {1}. The program never includes the chip's names; a line like '#include <{2}>' says so."
    );
}
