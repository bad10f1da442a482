using System.Collections.Frozen;

namespace AsmLsp.Core.Syntax;

/// <summary>What kind of operation a word of the language names.</summary>
public enum OperationKind
{
    /// <summary>No word of the language: a macro's name, or a mistake.</summary>
    Unknown,

    /// <summary>An instruction of the chip, or a shorthand that stands for one to three of them.</summary>
    Instruction,

    /// <summary>A directive, which tells how to assemble.</summary>
    Directive,

    /// <summary>A directive or sign that gives a value to the name before it: <c>equ</c>, <c>set</c>, <c>=</c>, <c>+=</c> and the like.</summary>
    Assignment,
}

/// <summary>
/// The words that stand in the operation's place. The parser needs them to tell labels from operations; what
/// they do is told elsewhere (instructions, shorthand, directives), and a test holds the lists together.
/// </summary>
public static class OperationWords
{
    private static readonly string[] Bare =
    [
        "clrw",
        "nop",
        "clrwdt",
        "retfie",
        "return",
        "sleep",
        "option",
        "clrc",
        "setc",
        "clrz",
        "setz",
        "clrdc",
        "setdc",
        "skpc",
        "skpnc",
        "skpz",
        "skpnz",
        "skpdc",
        "skpndc",
    ];

    private static readonly string[] WithOperands =
    [
        "addwf",
        "andwf",
        "clrf",
        "comf",
        "decf",
        "decfsz",
        "incf",
        "incfsz",
        "iorwf",
        "movf",
        "movwf",
        "rlf",
        "rrf",
        "subwf",
        "swapf",
        "xorwf",
        "bcf",
        "bsf",
        "btfsc",
        "btfss",
        "addlw",
        "andlw",
        "call",
        "goto",
        "iorlw",
        "movlw",
        "retlw",
        "sublw",
        "xorlw",
        "tris",
        "movfw",
        "tstf",
        "negf",
        "bz",
        "bnz",
        "bc",
        "bnc",
        "bdc",
        "bndc",
        "b",
        "addcf",
        "adddcf",
        "subcf",
        "subdcf",
        "lcall",
        "lgoto",
    ];

    private static readonly string[] Directives =
    [
        "constant",
        "variable",
        "cblock",
        "endc",
        "define",
        "#define",
        "undefine",
        "#undefine",
        "org",
        "res",
        "fill",
        "dw",
        "data",
        "dat",
        "db",
        "da",
        "dt",
        "de",
        "end",
        "list",
        "processor",
        "radix",
        "__config",
        "__fuses",
        "__idlocs",
        "__maxram",
        "__badram",
        "include",
        "#include",
        "banksel",
        "bankisel",
        "pagesel",
        "if",
        "elseif",
        "else",
        "endif",
        "#if",
        "#elseif",
        "#else",
        "#endif",
        "ifdef",
        "ifndef",
        "#ifdef",
        "#ifndef",
        "while",
        "endw",
        "#while",
        "#endw",
        "macro",
        "endm",
        "local",
        "exitm",
        "expand",
        "noexpand",
        "error",
        "messg",
        "errorlevel",
        "title",
        "subtitle",
        "stitle",
        "subtitl",
        "page",
        "space",
        "nolist",
        "code",
        "udata",
        "udata_shr",
        "udata_ovr",
        "idata",
        "global",
        "extern",
    ];

    private static readonly string[] Assignments =
    [
        "equ",
        "set",
        "=",
        "+=",
        "-=",
        "*=",
        "/=",
        "%=",
        "<<=",
        ">>=",
        "&=",
        "|=",
        "^=",
        "++",
        "--",
    ];

    private static readonly FrozenDictionary<string, OperationKind> Kinds = Build();

    private static readonly FrozenDictionary<string, OperationKind>.AlternateLookup<ReadOnlySpan<char>> BySpan =
        Kinds.GetAlternateLookup<ReadOnlySpan<char>>();

    private static readonly FrozenSet<string>.AlternateLookup<ReadOnlySpan<char>> BareWords = Bare.ToFrozenSet(
            StringComparer.OrdinalIgnoreCase
        )
        .GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>Every word of the language that can stand in the operation's place, in lower case.</summary>
    public static IEnumerable<string> All => Kinds.Keys;

    /// <summary>What a word names as an operation, without regard to case.</summary>
    public static OperationKind KindOf(ReadOnlySpan<char> word) =>
        BySpan.TryGetValue(word, out OperationKind kind) ? kind : OperationKind.Unknown;

    /// <summary>Whether a word is an instruction that takes no operand.</summary>
    public static bool TakesNoOperand(ReadOnlySpan<char> word) => BareWords.Contains(word);

    private static FrozenDictionary<string, OperationKind> Build()
    {
        var kinds = new Dictionary<string, OperationKind>(StringComparer.OrdinalIgnoreCase);
        foreach (string word in Bare)
            kinds.Add(word, OperationKind.Instruction);
        foreach (string word in WithOperands)
            kinds.Add(word, OperationKind.Instruction);
        foreach (string word in Directives)
            kinds.Add(word, OperationKind.Directive);
        foreach (string word in Assignments)
            kinds.Add(word, OperationKind.Assignment);
        return kinds.ToFrozenDictionary(StringComparer.OrdinalIgnoreCase);
    }
}
