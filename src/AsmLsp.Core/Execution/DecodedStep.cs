using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Execution;

/// <summary>A word that was decoded once.</summary>
internal readonly record struct DecodedStep(Operation Operation, short First, byte Second)
{
    /// <summary>Decodes a word.</summary>
    public static DecodedStep Of(int word) =>
        InstructionSet.Decode(word) is { } decoded
            ? new DecodedStep(OperationOf(decoded.Instruction.Name), (short)decoded.First, (byte)decoded.Second)
            : default;

    /// <summary>The bits of the register operand that are written: 0 where it is only read. MOVF onto itself counts as no write.</summary>
    public int WrittenBits =>
        Operation switch
        {
            Operation.Nop or Operation.Clrw or Operation.None => 0,
            Operation.Clrf or Operation.Movwf => 0xFF,
            Operation.Bcf or Operation.Bsf => 1 << Second,
            Operation.Movf => 0,
            <= Operation.Xorwf => Second == 1 ? 0xFF : 0,
            _ => 0,
        };

    /// <summary>Whether W is written; a call is none of these, what it calls may be.</summary>
    public bool WritesW =>
        Operation switch
        {
            Operation.Clrf or Operation.Movwf or Operation.Nop or Operation.None => false,
            Operation.Clrw => true,
            <= Operation.Xorwf => Second == 0,
            Operation.Addlw
            or Operation.Sublw
            or Operation.Andlw
            or Operation.Iorlw
            or Operation.Xorlw
            or Operation.Movlw
            or Operation.Retlw => true,
            _ => false,
        };

    /// <summary>Whether it may skip the next instruction.</summary>
    public bool MaySkip => Operation is Operation.Decfsz or Operation.Incfsz or Operation.Btfsc or Operation.Btfss;

    /// <summary>Whether it has a register operand.</summary>
    public bool TakesRegister =>
        Operation is > Operation.None and <= Operation.Btfss and not (Operation.Nop or Operation.Clrw);

    private static Operation OperationOf(string name) =>
        name switch
        {
            "addwf" => Operation.Addwf,
            "andwf" => Operation.Andwf,
            "clrf" => Operation.Clrf,
            "clrw" => Operation.Clrw,
            "comf" => Operation.Comf,
            "decf" => Operation.Decf,
            "decfsz" => Operation.Decfsz,
            "incf" => Operation.Incf,
            "incfsz" => Operation.Incfsz,
            "iorwf" => Operation.Iorwf,
            "movf" => Operation.Movf,
            "movwf" => Operation.Movwf,
            "nop" => Operation.Nop,
            "rlf" => Operation.Rlf,
            "rrf" => Operation.Rrf,
            "subwf" => Operation.Subwf,
            "swapf" => Operation.Swapf,
            "xorwf" => Operation.Xorwf,
            "bcf" => Operation.Bcf,
            "bsf" => Operation.Bsf,
            "btfsc" => Operation.Btfsc,
            "btfss" => Operation.Btfss,
            "addlw" => Operation.Addlw,
            "andlw" => Operation.Andlw,
            "call" => Operation.Call,
            "clrwdt" => Operation.Clrwdt,
            "goto" => Operation.Goto,
            "iorlw" => Operation.Iorlw,
            "movlw" => Operation.Movlw,
            "retfie" => Operation.Retfie,
            "retlw" => Operation.Retlw,
            "return" => Operation.Return,
            "sleep" => Operation.Sleep,
            "sublw" => Operation.Sublw,
            "xorlw" => Operation.Xorlw,
            "option" => Operation.Option,
            "tris" => Operation.Tris,
            _ => Operation.None,
        };
}
