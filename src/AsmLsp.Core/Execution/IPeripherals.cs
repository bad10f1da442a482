namespace AsmLsp.Core.Execution;

/// <summary>
/// What lies outside the instruction core: pins, timers, converters. Without it a special function register is a byte
/// that keeps what was written to it.
/// </summary>
public interface IPeripherals
{
    /// <summary>The value that a read of a special function register gives.</summary>
    /// <param name="address">The lowest data address of the register, 0..0x1FF.</param>
    /// <param name="stored">The value that was written last.</param>
    int Read(int address, int stored);

    /// <summary>The value that a register keeps after a write.</summary>
    /// <param name="address">The lowest data address of the register, 0..0x1FF.</param>
    /// <param name="value">The value that is written, bits that the chip does not have as 0.</param>
    int Write(int address, int value);
}

/// <summary>What a step did.</summary>
public enum StepResult
{
    /// <summary>One instruction was executed.</summary>
    Executed,

    /// <summary>The processor sleeps: nothing was executed.</summary>
    Asleep,

    /// <summary>The word at the program counter is no instruction: nothing was executed.</summary>
    NotAnInstruction,
}
