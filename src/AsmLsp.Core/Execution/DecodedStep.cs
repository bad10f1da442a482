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
