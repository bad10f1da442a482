using System.Collections.Frozen;
using static AsmLsp.Core.Syntax.WordTraits;

namespace AsmLsp.Core.Syntax;

/// <summary>What kind of operation a word of the language names.</summary>
public enum OperationKind
{
    /// <summary>No word of the language: a macro's name, or a mistake.</summary>
    Unknown,

    /// <summary>An instruction of the chip, or a shorthand that means one to three of them.</summary>
    Instruction,

    /// <summary>A directive, which says how to assemble.</summary>
    Directive,

    /// <summary>A directive or sign that gives a value to the name before it: <c>equ</c>, <c>set</c>, <c>=</c>, <c>+=</c> and the like.</summary>
    Assignment,
}

/// <summary>A word that is in the operation's place, with all that is true of it.</summary>
/// <param name="Text">The word, in lower case.</param>
/// <param name="Kind">What kind of operation it names.</param>
/// <param name="Keyword">Which directive it names.</param>
/// <param name="Traits">What is true of it.</param>
public sealed record OperationWord(string Text, OperationKind Kind, Keyword Keyword, WordTraits Traits)
{
    /// <summary>Whether one of some traits is true of it.</summary>
    public bool Has(WordTraits any) => (Traits & any) != 0;
}

/// <summary>
/// The one table of the words that are in the operation's place. Each word says its traits here once, and every judgement
/// asks this table. What a word does is said elsewhere (instructions, shorthand, directives); a test holds the lists together,
/// and another one that no directive is named by its letters outside.
/// </summary>
public static class OperationWords
{
    // An operand of such a directive is a value, and the directive makes words of it.
    private const WordTraits Data = PlacesData | MakesWords | Places | TakesLabel | TakesValues | NeedsOperand;

    // The choice of a bank or a page makes words as well.
    private const WordTraits Selection = MakesWords | Places | TakesLabel | TakesValues | NeedsOperand;

    private const WordTraits Text = TakesText | TakesNames | FreeOperands | NeedsOperand;

    private const WordTraits Choice = Conditional | KeepsColumn;

    private static readonly OperationWord[] Table =
    [
        // Instructions and shorthand.
        .. Instructions(NoOperand, "clrw nop clrwdt retfie"),
        .. Instructions(NoOperand | Shorthand, "clrc setc clrz setz clrdc setdc skpc skpnc skpz skpnz skpdc skpndc"),
        .. Instructions(NoOperand | Natural | FrequentInProse, "return sleep option"),
        .. Instructions(
            NeedsOperand,
            "addwf andwf clrf comf decf decfsz incf incfsz iorwf movf movwf rlf rrf subwf swapf xorwf bcf bsf btfsc btfss"
        ),
        .. Instructions(NeedsOperand, "addlw andlw iorlw movlw retlw sublw xorlw tris"),
        .. Instructions(
            NeedsOperand | Shorthand,
            "movfw tstf negf bz bnz bc bnc bdc bndc addcf adddcf subcf subdcf lcall lgoto"
        ),
        .. Instructions(NeedsOperand | Shorthand | Natural | FrequentInProse, "b"),
        .. Instructions(NeedsOperand | Natural | FrequentInProse, "call"),
        .. Instructions(NeedsOperand | Natural, "goto"),
        // Values of names.
        .. Assignments(Keyword.Equ, NeedsOperand | TakesValues, "equ"),
        .. Assignments(Keyword.Set, NeedsOperand | TakesValues | Natural | FrequentInProse, "set"),
        .. Assignments(Keyword.Assign, NeedsOperand | TakesValues, "= += -= *= /= %= <<= >>= &= |= ^= ++ --"),
        .. Directives(Keyword.Constant, NeedsOperand | TakesValues | Natural | FrequentInProse, "constant"),
        .. Directives(Keyword.Variable, NeedsOperand | TakesValues | Natural | FrequentInProse, "variable"),
        .. Directives(
            Keyword.VariableBlock,
            Places | NumberIsOptional | TakesValues | HoldsVariables | KeepsColumn,
            "cblock"
        ),
        .. Directives(Keyword.EndVariableBlock, NoOperand | Harmless | KeepsColumn, "endc"),
        .. Directives(
            Keyword.Define,
            TakesNames | FreeOperands | NeedsOperand | KeepsColumn | Natural | FrequentInProse,
            "define"
        ),
        .. Directives(Keyword.Define, TakesNames | FreeOperands | NeedsOperand | KeepsColumn, "#define"),
        .. Directives(Keyword.Undefine, TakesNames | FreeOperands | NeedsOperand | KeepsColumn, "undefine #undefine"),
        // Places, space and data.
        .. Directives(Keyword.Org, Places | TakesLabel | TakesValues | NeedsOperand, "org"),
        .. Directives(Keyword.Reserve, Places | TakesLabel | TakesValues | NeedsOperand | NumberIsOptional, "res"),
        .. Directives(
            Keyword.Fill,
            MakesWords | Places | TakesLabel | TakesValues | NeedsOperand | Natural | FrequentInProse,
            "fill"
        ),
        .. Directives(Keyword.DataWords, Data, "dw dat"),
        .. Directives(Keyword.DataWords, Data | Natural | FrequentInProse, "data"),
        .. Directives(Keyword.DataBytes, Data, "db"),
        .. Directives(Keyword.DataPackedText, Data | Foreign, "da"),
        .. Directives(Keyword.DataTable, Data, "dt"),
        .. Directives(Keyword.DataEeprom, Data | Foreign, "de"),
        .. Directives(
            Keyword.CodeSection,
            Section | TakesLabel | TakesValues | NumberIsOptional | Natural | FrequentInProse,
            "code"
        ),
        .. Directives(
            Keyword.DataSection,
            Section | HoldsVariables | TakesLabel | TakesValues | NumberIsOptional,
            "udata udata_shr udata_ovr idata"
        ),
        .. Directives(Keyword.End, NoOperand | TakesLabel | Harmless | Natural | FrequentInProse, "end"),
        // The chip and how to read the program.
        .. Directives(Keyword.List, FreeOperands | Head | KeepsColumn | Natural | FrequentInProse, "list"),
        .. Directives(Keyword.Processor, Head | NeedsOperand, "processor"),
        .. Directives(Keyword.Radix, Head | NeedsOperand, "radix"),
        .. Directives(Keyword.Configuration, Places | TakesValues | NeedsOperand, "__config __fuses"),
        .. Directives(Keyword.IdWords, Places | TakesValues | NeedsOperand, "__idlocs"),
        .. Directives(Keyword.MemoryMap, TakesValues | NeedsOperand, "__maxram __badram"),
        .. Directives(Keyword.Include, Text | Head | KeepsColumn | Natural | FrequentInProse, "include"),
        .. Directives(Keyword.Include, Text | Head | KeepsColumn, "#include"),
        .. Directives(Keyword.BankSelect, Selection, "banksel"),
        .. Directives(Keyword.IndirectBankSelect, Selection, "bankisel"),
        .. Directives(Keyword.PageSelect, Selection, "pagesel"),
        // Choices, loops and macros.
        .. Directives(Keyword.If, Choice | OpensBody | TakesValues | NeedsOperand | Natural | FrequentInProse, "if"),
        .. Directives(Keyword.If, Choice | OpensBody | TakesValues | NeedsOperand, "#if"),
        .. Directives(Keyword.IfDefined, Choice | OpensBody | TakesNames | NeedsOperand, "ifdef #ifdef"),
        .. Directives(Keyword.IfNotDefined, Choice | OpensBody | TakesNames | NeedsOperand, "ifndef #ifndef"),
        .. Directives(Keyword.ElseIf, Choice | TakesValues | NeedsOperand, "elseif #elseif"),
        .. Directives(Keyword.Else, Choice | NoOperand | Harmless | Natural | FrequentInProse, "else"),
        .. Directives(Keyword.Else, Choice | NoOperand | Harmless, "#else"),
        .. Directives(Keyword.EndIf, Choice | ClosesBody | NoOperand | Harmless, "endif #endif"),
        .. Directives(
            Keyword.While,
            OpensBody | TakesValues | NeedsOperand | KeepsColumn | Natural | FrequentInProse,
            "while"
        ),
        .. Directives(Keyword.While, OpensBody | TakesValues | NeedsOperand | KeepsColumn, "#while"),
        .. Directives(Keyword.EndWhile, ClosesBody | NoOperand | Harmless | KeepsColumn, "endw #endw"),
        .. Directives(Keyword.Macro, OpensBody | TakesLabel | Natural, "macro"),
        .. Directives(Keyword.EndMacro, ClosesBody | NoOperand | Harmless | KeepsColumn, "endm"),
        .. Directives(Keyword.Local, TakesNames | NeedsOperand | KeepsColumn | Natural | FrequentInProse, "local"),
        .. Directives(Keyword.ExitMacro, NoOperand | KeepsColumn, "exitm"),
        // Words for people and for the printer.
        .. Directives(Keyword.Expand, NoOperand | Harmless | Natural | FrequentInProse, "expand"),
        .. Directives(Keyword.Expand, NoOperand | Harmless, "noexpand"),
        .. Directives(Keyword.Error, Text | KeepsColumn | Natural | FrequentInProse, "error"),
        .. Directives(Keyword.Message, Text | Harmless | KeepsColumn, "messg"),
        .. Directives(Keyword.ErrorLevel, FreeOperands | Harmless, "errorlevel"),
        .. Directives(Keyword.Title, Text | Harmless | KeepsColumn | Natural | FrequentInProse, "title"),
        .. Directives(Keyword.Title, Text | Harmless | KeepsColumn, "subtitle stitle subtitl"),
        .. Directives(Keyword.Page, NoOperand | FreeOperands | Harmless | Natural | FrequentInProse, "page"),
        .. Directives(Keyword.Space, Harmless | Natural | FrequentInProse, "space"),
        .. Directives(Keyword.NoList, NoOperand | Harmless, "nolist"),
        .. Directives(Keyword.Global, TakesNames | NeedsOperand | Natural | FrequentInProse, "global"),
        .. Directives(Keyword.Extern, TakesNames | NeedsOperand, "extern"),
    ];

    private static readonly FrozenDictionary<string, OperationWord> ByText = Table.ToFrozenDictionary(
        static w => w.Text,
        StringComparer.OrdinalIgnoreCase
    );

    private static readonly FrozenDictionary<string, OperationWord>.AlternateLookup<ReadOnlySpan<char>> BySpan =
        ByText.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>Every word of the language that can be in the operation's place, in lower case.</summary>
    public static IEnumerable<string> All => ByText.Keys;

    /// <summary>The same with what is true of each, in the order of the table.</summary>
    public static IReadOnlyList<OperationWord> Entries => Table;

    /// <summary>The entry of a word, without regard to case, or null.</summary>
    public static OperationWord? Find(ReadOnlySpan<char> word) =>
        BySpan.TryGetValue(word, out OperationWord? found) ? found : null;

    /// <summary>What a word names as an operation, without regard to case.</summary>
    public static OperationKind KindOf(ReadOnlySpan<char> word) => Find(word)?.Kind ?? OperationKind.Unknown;

    /// <summary>Which directive a word names, without regard to case.</summary>
    public static Keyword KeywordOf(ReadOnlySpan<char> word) => Find(word)?.Keyword ?? Keyword.None;

    /// <summary>Whether one of some traits is true of a word.</summary>
    public static bool Has(ReadOnlySpan<char> word, WordTraits any) => Find(word)?.Has(any) == true;

    /// <summary>Whether a word is an instruction that takes no operand.</summary>
    public static bool TakesNoOperand(ReadOnlySpan<char> word) =>
        Find(word) is { Kind: OperationKind.Instruction } found && found.Has(NoOperand);

    /// <summary>The spelling of a directive that a text of our own uses: its first in the table.</summary>
    public static string Spell(Keyword keyword) => Array.Find(Table, w => w.Keyword == keyword)!.Text;

    private static IEnumerable<OperationWord> Instructions(WordTraits traits, string words) =>
        Words(OperationKind.Instruction, Keyword.None, traits, words);

    private static IEnumerable<OperationWord> Directives(Keyword keyword, WordTraits traits, string words) =>
        Words(OperationKind.Directive, keyword, traits, words);

    private static IEnumerable<OperationWord> Assignments(Keyword keyword, WordTraits traits, string words) =>
        Words(OperationKind.Assignment, keyword, traits, words);

    private static IEnumerable<OperationWord> Words(
        OperationKind kind,
        Keyword keyword,
        WordTraits traits,
        string words
    ) => words.Split(' ').Select(word => new OperationWord(word, kind, keyword, traits));
}
