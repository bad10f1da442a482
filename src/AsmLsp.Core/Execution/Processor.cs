using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;

namespace AsmLsp.Core.Execution;

/// <summary>
/// The instruction core of a mid-range chip, exact in results, flags, banks, stack and cycles, without peripherals: timers do not
/// count, pins do not change, interrupts come when the caller asks for one. What instructions do: reference manual DS33023,
/// "Instruction Set"; banks, PCL and the stack: the same, "Memory Organization".
/// </summary>
public sealed class Processor
{
    // A chip comes with a RETLW of its own trim value at one address; the middle of the range means it.
    private const int Erased = 0x3FFF,
        FactoryWord = 0x3480,
        AddressMask = 0x1FFF,
        DefaultStack = 8,
        BankOne = 0x80,
        PageBits = 0x1800;
    private const int CarryBit = ArithmeticUnit.Carry,
        ZeroBit = ArithmeticUnit.Zero,
        FlagBits = 7,
        PowerDownBit = 0x08,
        TimeOutBit = 0x10,
        BankBits = 0x60,
        IndirectBankBit = 0x80,
        GlobalInterruptBit = 0x80;

    private readonly DecodedStep[] steps;
    private readonly int[] words;
    private readonly int mask;
    private readonly int resetVector;
    private readonly int interruptVector;
    private readonly DataSpace data;
    private int pc;

    /// <summary>A processor after power-on, its memory all 0.</summary>
    /// <param name="device">The chip, or null for a chip of four banks and four pages.</param>
    /// <param name="program">The words at their addresses; all others are erased (0x3FFF), but for the factory's calibration word.</param>
    public Processor(Device? device, WordMemory program)
    {
        ArgumentNullException.ThrowIfNull(program);
        int size = device?.ProgramWords ?? AddressMask + 1;
        int room = 1;
        while (room < size)
            room <<= 1;
        mask = room - 1;
        words = new int[room];
        steps = new DecodedStep[room];
        Array.Fill(words, Erased);
        Array.Fill(steps, DecodedStep.Of(Erased));
        foreach ((int address, ushort word) in program)
            if (address < size)
                (words[address], steps[address]) = (word, DecodedStep.Of(word));
        if (device?.Calibration is { } factory && factory.Address < size && program[factory.Address] is null)
            (words[factory.Address], steps[factory.Address]) = (FactoryWord, DecodedStep.Of(FactoryWord));
        data = new DataSpace(device);
        Stack = new CallStack(device?.StackDepth ?? DefaultStack);
        resetVector = device?.ResetVector ?? 0;
        interruptVector = device?.InterruptVector ?? 4;
        Reset();
    }

    /// <summary>What lies outside the core, or null.</summary>
    public IPeripherals? Peripherals { get; set; }

    /// <summary>The address of the next instruction.</summary>
    public int ProgramCounter
    {
        get => pc;
        set => pc = value & mask;
    }

    /// <summary>The working register, 0..255.</summary>
    public int W { get; set; }

    /// <summary>Instruction cycles since the reset, four clock periods each.</summary>
    public long Cycles { get; private set; }

    /// <summary>The return addresses.</summary>
    public CallStack Stack { get; }

    /// <summary>Whether SLEEP was executed and nothing woke the processor yet.</summary>
    public bool IsAsleep { get; private set; }

    /// <summary>The register STATUS.</summary>
    public int Status
    {
        get => data[DataSpace.Status];
        set => data[DataSpace.Status] = value;
    }

    /// <summary>The register PCLATH, five bits.</summary>
    public int Latch
    {
        get => data[DataSpace.Latch];
        set => data[DataSpace.Latch] = value;
    }

    /// <summary>A processor with the words of a program.</summary>
    public static Processor Of(ProgramAnalysis program)
    {
        ArgumentNullException.ThrowIfNull(program);
        return new Processor(program.Device, program.Image.Memory);
    }

    /// <summary>The word at an address of the program memory; an erased one where nothing was placed.</summary>
    public int Word(int address) => words[address & mask];

    /// <summary>Power-on: the registers get their values, the program starts at its first word; memory and W keep what they had.</summary>
    public void Reset()
    {
        data.PowerOn();
        Stack.Reset();
        (pc, Cycles, IsAsleep) = (resetVector, 0, false);
    }

    /// <summary>The byte at a full data address (0..0x1FF) without asking the peripherals; 0 where there is none.</summary>
    public int Peek(int address)
    {
        int at = data.Canonical(address);
        return at < 0 ? 0
            : at == DataSpace.ProgramCounterLow ? pc & 0xFF
            : data[at];
    }

    /// <summary>Sets the byte at a full data address (0..0x1FF) without asking the peripherals; PCL stays as it is.</summary>
    public void Poke(int address, int value)
    {
        int at = data.Canonical(address);
        if (at >= 0 && at != DataSpace.ProgramCounterLow)
            data[at] = value;
    }

    /// <summary>The lowest data address of the byte that an instruction with a register operand reaches now, or -1 where there is none.</summary>
    /// <param name="register">The seven bits of the operand.</param>
    public int AddressOf(int register)
    {
        int full =
            register == DataSpace.Indirect
                ? ((data[DataSpace.Status] & IndirectBankBit) << 1) | data[DataSpace.Pointer]
                : ((data[DataSpace.Status] & BankBits) << 2) | register;
        // Indirect access to INDF itself: nothing is read or written.
        return (full & 0x7F) == DataSpace.Indirect ? -1 : data.Canonical(full);
    }

    /// <summary>Goes to the interrupt's code: two cycles in which nothing is executed (data sheet DS35007B, interrupt timing).</summary>
    public void Interrupt()
    {
        Stack.Push(pc);
        data[DataSpace.InterruptControl] &= ~GlobalInterruptBit;
        IsAsleep = false;
        Cycles += 2;
        pc = interruptVector & mask;
    }

    /// <summary>Ends the sleep: the program continues after SLEEP.</summary>
    public void Wake() => IsAsleep = false;

    /// <summary>Executes one instruction.</summary>
    public StepResult Step()
    {
        if (IsAsleep)
            return StepResult.Asleep;
        DecodedStep step = steps[pc];
        if (step.Operation == Operation.None)
            return StepResult.NotAnInstruction;
        int at = pc;
        pc = (pc + 1) & mask;
        Cycles++;
        if (step.Operation <= Operation.Xorwf)
            FileRegister(step);
        else if (step.Operation <= Operation.Btfss)
            Bit(step);
        else
            Other(step);
        // Whatever changes the program counter takes a second cycle.
        if (pc != ((at + 1) & mask) || IsJump(step))
            Cycles++;
        return StepResult.Executed;
    }

    // A jump to the next word takes two cycles too.
    private static bool IsJump(in DecodedStep step) =>
        step.Operation switch
        {
            Operation.Goto or Operation.Call or Operation.Return or Operation.Retlw or Operation.Retfie => true,
            Operation.Nop or Operation.Clrw => false,
            Operation.Clrf or Operation.Movwf or Operation.Bcf or Operation.Bsf => step.First
                == DataSpace.ProgramCounterLow,
            <= Operation.Xorwf => step.First == DataSpace.ProgramCounterLow && step.Second == 1,
            _ => false,
        };

    private void FileRegister(in DecodedStep step)
    {
        int result,
            flags,
            affected = ZeroBit;
        switch (step.Operation)
        {
            case Operation.Nop:
                return;
            case Operation.Clrw:
                W = 0;
                SetFlags(ZeroBit, ZeroBit);
                return;
            case Operation.Clrf:
                // The register is read before it is written; only peripherals could see that.
                Write(step.First, 0, ZeroBit, ZeroBit);
                return;
            case Operation.Movwf:
                Write(step.First, W, 0, 0);
                return;
        }

        int value = Read(step.First);
        bool skips = false;
        switch (step.Operation)
        {
            case Operation.Addwf:
                result = ArithmeticUnit.Add(value, W, out flags);
                affected = FlagBits;
                break;
            case Operation.Subwf:
                result = ArithmeticUnit.Subtract(value, W, out flags);
                affected = FlagBits;
                break;
            case Operation.Rlf:
                result = ((value << 1) | (data[DataSpace.Status] & CarryBit)) & 0xFF;
                (flags, affected) = (value >> 7, CarryBit);
                break;
            case Operation.Rrf:
                result = (value >> 1) | ((data[DataSpace.Status] & CarryBit) << 7);
                (flags, affected) = (value & 1, CarryBit);
                break;
            case Operation.Decfsz:
            case Operation.Incfsz:
                result = (value + (step.Operation == Operation.Incfsz ? 1 : -1)) & 0xFF;
                skips = result == 0;
                (flags, affected) = (0, 0);
                break;
            case Operation.Swapf:
                result = ((value << 4) | (value >> 4)) & 0xFF;
                (flags, affected) = (0, 0);
                break;
            default:
                result = step.Operation switch
                {
                    Operation.Andwf => value & W,
                    Operation.Comf => value ^ 0xFF,
                    Operation.Decf => (value - 1) & 0xFF,
                    Operation.Incf => (value + 1) & 0xFF,
                    Operation.Iorwf => value | W,
                    Operation.Movf => value,
                    _ => value ^ W,
                };
                flags = result == 0 ? ZeroBit : 0;
                break;
        }

        if (step.Second == 1)
        {
            Write(step.First, result, affected, flags);
        }
        else
        {
            W = result;
            SetFlags(affected, flags);
        }

        if (skips)
            pc = (pc + 1) & mask;
    }

    private void Bit(in DecodedStep step)
    {
        int value = Read(step.First),
            bit = 1 << step.Second;
        switch (step.Operation)
        {
            case Operation.Bcf:
                Write(step.First, value & ~bit, 0, 0);
                break;
            case Operation.Bsf:
                Write(step.First, value | bit, 0, 0);
                break;
            default:
                if ((value & bit) != 0 == (step.Operation == Operation.Btfss))
                    pc = (pc + 1) & mask;
                break;
        }
    }

    private void Other(in DecodedStep step)
    {
        int k = step.First,
            flags;
        switch (step.Operation)
        {
            case Operation.Addlw:
                W = ArithmeticUnit.Add(k, W, out flags);
                SetFlags(FlagBits, flags);
                break;
            case Operation.Sublw:
                W = ArithmeticUnit.Subtract(k, W, out flags);
                SetFlags(FlagBits, flags);
                break;
            case Operation.Andlw:
                Logic(W & k);
                break;
            case Operation.Iorlw:
                Logic(W | k);
                break;
            case Operation.Xorlw:
                Logic(W ^ k);
                break;
            case Operation.Movlw:
                W = k;
                break;
            case Operation.Call:
                Stack.Push(pc);
                pc = (((Latch << 8) & PageBits) | k) & mask;
                break;
            case Operation.Goto:
                pc = (((Latch << 8) & PageBits) | k) & mask;
                break;
            case Operation.Retlw:
                W = k;
                pc = Stack.Pop() & mask;
                break;
            case Operation.Return:
                pc = Stack.Pop() & mask;
                break;
            case Operation.Retfie:
                pc = Stack.Pop() & mask;
                data[DataSpace.InterruptControl] |= GlobalInterruptBit;
                break;
            case Operation.Clrwdt:
                data[DataSpace.Status] |= TimeOutBit | PowerDownBit;
                break;
            case Operation.Sleep:
                data[DataSpace.Status] = (data[DataSpace.Status] | TimeOutBit) & ~PowerDownBit;
                IsAsleep = true;
                break;
            case Operation.Option:
                Store(data.Canonical(DataSpace.Option), W);
                break;
            case Operation.Tris:
                Store(data.Canonical(BankOne | k), W);
                break;
        }
    }

    private void Logic(int result)
    {
        W = result;
        SetFlags(ZeroBit, result == 0 ? ZeroBit : 0);
    }

    private void SetFlags(int affected, int flags) =>
        data[DataSpace.Status] = (data[DataSpace.Status] & ~affected) | flags;

    private int Read(int register)
    {
        int at = AddressOf(register);
        if (at < 0)
            return 0;
        if (at == DataSpace.ProgramCounterLow)
            return pc & 0xFF;
        return data.IsSpecial[at] && Peripherals is { } outside ? outside.Read(at, data[at]) & 0xFF : data[at];
    }

    // The flags of an instruction win over what it writes to STATUS: where it affects one of the three, none of them is written
    // (DS33023, "STATUS register"). TO and PD cannot be written.
    private void Write(int register, int value, int affected, int flags)
    {
        int at = AddressOf(register);
        if (at == DataSpace.Status)
        {
            int kept = TimeOutBit | PowerDownBit | (affected != 0 ? FlagBits : 0);
            data[DataSpace.Status] = (data[DataSpace.Status] & kept) | (value & ~kept);
        }
        else if (at == DataSpace.ProgramCounterLow)
        {
            pc = ((Latch << 8) | value) & mask;
        }
        else
        {
            Store(at, value);
        }

        SetFlags(affected, flags);
    }

    private void Store(int at, int value)
    {
        if (at < 0)
            return;
        data[at] =
            data.IsSpecial[at] && Peripherals is { } outside ? outside.Write(at, value & data.Present(at)) : value;
    }
}
