namespace AsmLsp.Core.Problems;

/// <content>Numbers, expressions and operands.</content>
public static partial class Catalogue
{
    /// <summary>A number has a digit that its notation does not have.</summary>
    public static readonly ProblemKind BadNumber = Error(
        "bad-number",
        "{0} is not a {1} number: '{2}' is not one of its digits."
    );

    /// <summary>A number does not fit into 32 bits.</summary>
    public static readonly ProblemKind NumberTooLarge = Error(
        "number-too-large",
        "{0} is too large: numbers here have 32 bits at the most."
    );

    /// <summary>A number that can be read in two notations.</summary>
    public static readonly ProblemKind AmbiguousNumber = Warning(
        "ambiguous-number",
        "{0} can be read as binary or as hexadecimal; it is read as {1} here. Write {2} to be sure."
    );

    /// <summary>A bare number that the comment beside it names as a decimal one.</summary>
    public static readonly ProblemKind LooksDecimal = Information(
        "looks-decimal",
        "{0} is read as hexadecimal here and is {1} in decimal, but the comment speaks of {0}. Write .{0} if the decimal number is meant, 0x{0} if it is right as it is."
    );

    /// <summary>An expression is faulty.</summary>
    public static readonly ProblemKind BadExpression = Error("bad-expression", "{0}");

    /// <summary>An operand is missing.</summary>
    public static readonly ProblemKind MissingOperand = Error("missing-operand", "{0} needs {1}. Write {2}.");

    /// <summary>There are more operands than the operation takes.</summary>
    public static readonly ProblemKind TooManyOperands = Warning(
        "too-many-operands",
        "{0} takes {1}; '{2}' makes no word."
    );

    /// <summary>A constant does not fit into 8 bits.</summary>
    public static readonly ProblemKind LiteralOutOfRange = Warning(
        "literal-out-of-range",
        "{0} does not fit into 8 bits (-128 to 255): only its low 8 bits, {1}, go into the instruction.{2}"
    );

    /// <summary>A constant that is meant to wrap into 8 bits.</summary>
    public static readonly ProblemKind LiteralWraps = Information(
        "literal-wraps",
        "{0} has more than 8 bits: {1} goes into the instruction.{2}"
    );

    /// <summary>A data word does not fit.</summary>
    public static readonly ProblemKind DataOutOfRange = Warning(
        "data-out-of-range",
        "{0} does not fit into {1} bits: only {2} is stored."
    );

    /// <summary>A bit number is not 0 to 7.</summary>
    public static readonly ProblemKind BitOutOfRange = Error(
        "bit-out-of-range",
        "Bits are numbered 0 to 7; {0} is none of them."
    );

    /// <summary>A register address lies outside the register file.</summary>
    public static readonly ProblemKind RegisterOutOfRange = Warning(
        "register-out-of-range",
        "{0} is not a register address (0 to 0x1FF): only its low 7 bits, {1}, go into the instruction."
    );

    /// <summary>The destination is neither 0 nor 1.</summary>
    public static readonly ProblemKind DestinationUnclear = Warning(
        "destination-unclear",
        "The destination is 0 (W) or 1 (the register); {0} is neither. It is taken as {1}."
    );

    /// <summary>A name of the program turns a destination into the other one.</summary>
    public static readonly ProblemKind DestinationTurned = Warning(
        "destination-turned",
        "{0} means {1} in this program: the result goes to {2}. Rename the label or value {0}, or write 0 for W and 1 for the register."
    );

    /// <summary>A label has the name of a destination.</summary>
    public static readonly ProblemKind LabelNamedLikeDestination = Warning(
        "label-named-like-destination",
        "A label {0} changes what ',{0}' means in every instruction. Rename it; if it is the rest of the line above, put it back there."
    );

    /// <summary>The destination is left out.</summary>
    public static readonly ProblemKind DestinationLeftOut = Information(
        "destination-left-out",
        "{0} does not say where the result goes: it goes back to the register. Write ',f' to say so."
    );

    /// <summary>TRIS names no port.</summary>
    public static readonly ProblemKind TrisPortUnclear = Error(
        "tris-port-unclear",
        "TRIS takes a port, 5 (port A or GPIO), 6 (port B) or 7 (port C); {0} is none of them."
    );

    /// <summary>A jump leaves the program memory.</summary>
    public static readonly ProblemKind JumpOutsideMemory = Warning(
        "jump-outside-memory",
        "{0} is not an address in the program memory of {1}, which ends at {2}."
    );

    /// <summary>A division by zero.</summary>
    public static readonly ProblemKind DivisionByZero = Error("division-by-zero", "This divides by zero.");

    /// <summary>A result does not fit into 32 bits.</summary>
    public static readonly ProblemKind ValueOverflows = Warning(
        "value-overflows",
        "The result does not fit into 32 bits; only its low 32 bits are used."
    );

    /// <summary>A division whose result depends on a choice.</summary>
    public static readonly ProblemKind NegativeDivision = Warning(
        "negative-division",
        "Printed listings do not agree on dividing negative numbers. Here the result is cut toward zero."
    );

    /// <summary>A negative number is moved right so far that a choice shows in the result.</summary>
    public static readonly ProblemKind NegativeShift = Warning(
        "negative-shift",
        "A negative number is moved right by {0} bits. Printed listings do not agree on what comes in at the top. Here it is ones, so that the number stays negative."
    );

    /// <summary>A variable is used above its first value, and has several.</summary>
    public static readonly ProblemKind ValueUsedEarly = Warning(
        "value-used-early",
        "{0} gets its values further down ({1}) and has more than one; here it counts with its last one, {2}. Give it its value above this line."
    );

    /// <summary>A condition depends on what is further down.</summary>
    public static readonly ProblemKind ConditionLooksAhead = Warning(
        "condition-looks-ahead",
        "{0} is defined later ({1}), but here it decides which lines count. Move its definition above this line."
    );

    /// <summary>A mix of operators that people read in two ways.</summary>
    public static readonly ProblemKind UnclearPrecedence = Warning(
        "unclear-precedence",
        "'{0}' binds stronger than '{1}' here, so this is read as {2}. Put parentheses to be sure."
    );

    /// <summary>Text where one value is wanted.</summary>
    public static readonly ProblemKind TextWhereValue = Error(
        "text-where-value",
        "{0} is text of {1} characters where one value is wanted."
    );

    /// <summary>A character that has no byte.</summary>
    public static readonly ProblemKind CharacterWithoutByte = Warning(
        "character-without-byte",
        "'{0}' is not in the character set that such listings were written with; its low 8 bits, {1}, are stored."
    );

    /// <summary>A form of data that printed listings do not resolve.</summary>
    public static readonly ProblemKind UnclearData = Warning("unclear-data", "{0}");

    /// <summary>A value is needed at once, but is not known here.</summary>
    public static readonly ProblemKind ValueKeepsChanging = Error(
        "value-keeps-changing",
        "The addresses of this program do not come to rest: {0} changes each time it is worked out."
    );
}
