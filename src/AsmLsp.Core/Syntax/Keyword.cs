namespace AsmLsp.Core.Syntax;

/// <summary>Which directive a word names; several spellings may name one (<c>dw</c>, <c>data</c>, <c>dat</c>).</summary>
public enum Keyword
{
    /// <summary>No directive: an instruction, a name of the program, or a mistake.</summary>
    None,

    /// <summary><c>equ</c>: a name's value, once and for all.</summary>
    Equ,

    /// <summary><c>set</c>: a name's value, until the next one.</summary>
    Set,

    /// <summary><c>=</c>, <c>+=</c>, <c>++</c> and the like.</summary>
    Assign,

    /// <summary><c>constant</c>.</summary>
    Constant,

    /// <summary><c>variable</c>.</summary>
    Variable,

    /// <summary><c>cblock</c>: opens a block of variables.</summary>
    VariableBlock,

    /// <summary><c>endc</c>: closes a block of variables.</summary>
    EndVariableBlock,

    /// <summary><c>define</c>.</summary>
    Define,

    /// <summary><c>undefine</c>.</summary>
    Undefine,

    /// <summary><c>org</c>.</summary>
    Org,

    /// <summary><c>res</c>.</summary>
    Reserve,

    /// <summary><c>fill</c>.</summary>
    Fill,

    /// <summary><c>dw</c>, <c>data</c>, <c>dat</c>: whole words.</summary>
    DataWords,

    /// <summary><c>db</c>: bytes, packed in pairs.</summary>
    DataBytes,

    /// <summary><c>da</c>: text, packed seven bits a character.</summary>
    DataPackedText,

    /// <summary><c>dt</c>: a table of <c>retlw</c>.</summary>
    DataTable,

    /// <summary><c>de</c>: bytes of the EEPROM.</summary>
    DataEeprom,

    /// <summary><c>end</c>.</summary>
    End,

    /// <summary><c>list</c>.</summary>
    List,

    /// <summary><c>processor</c>.</summary>
    Processor,

    /// <summary><c>radix</c>.</summary>
    Radix,

    /// <summary><c>__config</c>, <c>__fuses</c>.</summary>
    Configuration,

    /// <summary><c>__idlocs</c>.</summary>
    IdWords,

    /// <summary><c>__maxram</c>, <c>__badram</c>.</summary>
    MemoryMap,

    /// <summary><c>include</c>.</summary>
    Include,

    /// <summary><c>banksel</c>.</summary>
    BankSelect,

    /// <summary><c>bankisel</c>.</summary>
    IndirectBankSelect,

    /// <summary><c>pagesel</c>.</summary>
    PageSelect,

    /// <summary><c>if</c>.</summary>
    If,

    /// <summary><c>ifdef</c>.</summary>
    IfDefined,

    /// <summary><c>ifndef</c>.</summary>
    IfNotDefined,

    /// <summary><c>elseif</c>.</summary>
    ElseIf,

    /// <summary><c>else</c>.</summary>
    Else,

    /// <summary><c>endif</c>.</summary>
    EndIf,

    /// <summary><c>while</c>.</summary>
    While,

    /// <summary><c>endw</c>.</summary>
    EndWhile,

    /// <summary><c>macro</c>.</summary>
    Macro,

    /// <summary><c>endm</c>.</summary>
    EndMacro,

    /// <summary><c>local</c>.</summary>
    Local,

    /// <summary><c>exitm</c>.</summary>
    ExitMacro,

    /// <summary><c>expand</c>, <c>noexpand</c>.</summary>
    Expand,

    /// <summary><c>error</c>.</summary>
    Error,

    /// <summary><c>messg</c>.</summary>
    Message,

    /// <summary><c>errorlevel</c>.</summary>
    ErrorLevel,

    /// <summary><c>title</c>, <c>subtitle</c> and its short forms.</summary>
    Title,

    /// <summary><c>page</c>.</summary>
    Page,

    /// <summary><c>space</c>.</summary>
    Space,

    /// <summary><c>nolist</c>.</summary>
    NoList,

    /// <summary><c>code</c>.</summary>
    CodeSection,

    /// <summary><c>udata</c> and its kinds, <c>idata</c>.</summary>
    DataSection,

    /// <summary><c>global</c>.</summary>
    Global,

    /// <summary><c>extern</c>.</summary>
    Extern,
}
