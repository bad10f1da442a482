using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Bench;

/// <summary>How a run starts: the levels at the inputs, and what memory holds after power-on, where no data sheet says it.</summary>
/// <param name="InputsHigh">Whether the inputs are high.</param>
/// <param name="Turned">A port pin that is at the other level, or null.</param>
/// <param name="Memory">The byte in memory, W and port latches.</param>
internal readonly record struct RunStart(bool InputsHigh, PortPin? Turned, byte Memory);

/// <summary>Where a run stops to be certain.</summary>
/// <param name="Cycle">Cycles after the start.</param>
/// <param name="Reason">Why, as the end of a sentence that starts with 'because'.</param>
public sealed record Horizon(long Cycle, string Reason);

/// <summary>
/// One run of a program from the reset with fixed levels at its inputs: ports, Timer 0 with its interrupt and reads of the data
/// EEPROM are computed (reference manual DS33023), everything else is where certainty ends.
/// </summary>
internal sealed class BoardRun : IPeripherals
{
    private const int InterruptControl = 0x0B,
        GlobalAndTimer = 0xA4,
        TimerFlag = 0x04,
        GlobalAndPeripheral = 0xC0,
        Option = 0x81,
        ClearWatchdog = 0x0064;

    // Registers that select what pins do or how fast the chip is, and change nothing by themselves.
    private static readonly string[] Quiet =
    [
        "ANSEL",
        "ANSELA",
        "ANSELH",
        "ADCON1",
        "CMCON",
        "CMCON0",
        "CM1CON0",
        "CM2CON0",
        "CMCON1",
        "VRCON",
        "WPU",
        "WPUA",
        "WPUB",
        "IOC",
        "IOCA",
        "IOCB",
        "OSCCAL",
        "OSCTUNE",
        "PCON",
        "EEADR",
        "EEADRH",
        "EEDATA",
        "EEDATH",
        "EECON2",
    ];

    private readonly Device device;
    private readonly PortPins ports;
    private readonly RunStart start;
    private readonly Processor processor;
    private readonly PortState?[] portAt = new PortState?[512];
    private readonly RegisterKind[] kindAt = new RegisterKind[512];
    private readonly int[] lookedAt;
    private readonly HashSet<string> modules = new(StringComparer.Ordinal);
    private readonly Register?[] registers = new Register?[512];
    private readonly WordMemory program;
    private readonly int timer;
    private readonly int eepromControl;
    private readonly bool hasWatchdog;
    private readonly double cyclesOfWatchdog;
    private long timerBase;
    private int timerValue;
    private long nextOverflow = long.MaxValue;
    private bool enablesPeripherals;
    private bool isTimerFlagged;
    private bool isAnalogKnown;

    public BoardRun(Device device, WordMemory program, PortPins ports, RunStart start, bool hasWatchdog, double? hertz)
    {
        (this.device, this.ports, this.start, this.program, this.hasWatchdog) = (
            device,
            ports,
            start,
            program,
            hasWatchdog
        );
        // About 18 ms (data sheet DS35007B, watchdog timer), 72,000 clock periods at 4 MHz.
        cyclesOfWatchdog = hertz is { } rate ? 0.018 * rate / 4 : double.PositiveInfinity;
        processor = new Processor(device, program) { Peripherals = this };
        foreach (Register register in device.Registers)
            registers[register.Address] ??= register;
        timer = device.FindRegister("TMR0")?.Address ?? -1;
        eepromControl = device.FindRegister("EECON1")?.Address ?? -1;
        lookedAt = new int[device.ProgramWords];
        Array.Fill(lookedAt, -1);
        foreach (PortPin pin in ports.Pins)
        {
            PortState port = portAt[pin.Port] ??= new PortState { Latch = start.Memory };
            port.Pins[pin.Bit] = pin;
            if (start.InputsHigh != (pin == start.Turned))
                port.Levels |= 1 << pin.Bit;
            port.Open |= pin.IsOpenDrain || pin.IsInputOnly ? 1 << pin.Bit : 0;
            port.InputOnly |= pin.IsInputOnly ? 1 << pin.Bit : 0;
        }

        foreach ((int direction, int of) in ports.DirectionOf)
            (portAt[direction], kindAt[direction]) = (portAt[of], RegisterKind.Direction);
        foreach ((int latch, int of) in ports.LatchOf)
            (portAt[latch], kindAt[latch]) = (portAt[of], RegisterKind.Latch);
        foreach (MemoryRange range in device.DataMemory.GeneralPurposeRanges)
        {
            for (int address = range.First; address <= range.Last; address++)
                processor.Poke(address, start.Memory);
        }

        processor.W = start.Memory;
        SetTimer(0);
    }

    /// <summary>Where the run stops to be certain, or null.</summary>
    public Horizon? Horizon { get; private set; }

    /// <summary>What the program uses beside ports and Timer 0.</summary>
    public IReadOnlyCollection<string> Modules => modules;

    /// <summary>The inputs that the program looks at, by name.</summary>
    public IEnumerable<string> Inputs =>
        ports.Pins.Where(p => (portAt[p.Port]!.Seen >> p.Bit & 1) != 0).Select(static p => p.Name);

    /// <summary>Whether the program writes the data EEPROM.</summary>
    public bool WritesEeprom { get; private set; }

    /// <summary>When the program went to sleep for good, or null.</summary>
    public long? AsleepAt { get; private set; }

    /// <summary>When the program ran into a word that is no instruction, and its address.</summary>
    public (long Cycle, int Address)? Lost { get; private set; }

    /// <summary>How many cycles the run took.</summary>
    public long End { get; private set; }

    /// <summary>What a pin did.</summary>
    public PinTrace TraceOf(PortPin pin) => portAt[pin.Port]!.Traces[pin.Bit];

    /// <summary>The value that a register holds at the end.</summary>
    public int ValueOf(Register register) => processor.Peek(register.Address);

    /// <summary>Runs for a number of instruction cycles.</summary>
    public void Run(long cycles)
    {
        long clearedAt = 0;
        while (processor.Cycles < cycles)
        {
            int at = processor.ProgramCounter;
            if (hasWatchdog && processor.Word(at) == ClearWatchdog)
                clearedAt = processor.Cycles;
            StepResult result = processor.Step();
            if (result == StepResult.NotAnInstruction)
            {
                Lost = (processor.Cycles, at);
                Stop(FormattableString.Invariant($"it reaches 0x{at:X4}, which holds no instruction"));
                break;
            }

            if (result == StepResult.Asleep)
            {
                AsleepAt = processor.Cycles;
                if (hasWatchdog)
                    Stop("the watchdog wakes the chip from sleep");
                break;
            }

            if (processor.Cycles >= nextOverflow)
                Overflow();
            if (isTimerFlagged)
                Interrupts();
            if (enablesPeripherals && (processor.Peek(InterruptControl) & GlobalAndPeripheral) == GlobalAndPeripheral)
                Stop("it waits for interrupts of a module that is not computed");
            if (hasWatchdog && processor.Cycles - clearedAt > cyclesOfWatchdog * WatchdogFactor())
                Stop("the watchdog restarts it before it runs CLRWDT");
        }

        End = AsleepAt is null && Lost is null ? processor.Cycles : cycles;
    }

    /// <inheritdoc/>
    public int Read(int address, int stored)
    {
        if (portAt[address] is { } port)
        {
            if (kindAt[address] == RegisterKind.Direction)
                return port.Direction & (registers[address]?.PresentMask ?? 0xFF);
            if (kindAt[address] == RegisterKind.Latch)
                return port.Latch;
            port.Seen |= port.Direction & LookedAt();
            // An open-drain pin that lets go shows what is outside.
            int driven = ~port.Direction & ~(port.Open & port.Latch) & ~port.InputOnly;
            return (port.Latch & driven) | (port.Levels & ~driven & ~Analog(port));
        }

        if (address == timer)
            return TimerNow();
        if (
            address != Option
            && address != eepromControl
            && registers[address] is { } register
            && IsModule(register)
            && !ChangesABit()
        )
            Stop($"it reads {register.Name}, which is not computed");
        return stored;
    }

    /// <inheritdoc/>
    public int Write(int address, int value)
    {
        if (portAt[address] is { } port)
        {
            if (kindAt[address] == RegisterKind.Direction)
                port.Direction = value;
            else
                port.Latch = value;
            port.Show(processor.Cycles);
            return value;
        }

        isAnalogKnown = false;
        if (address == timer)
        {
            SetTimer(value);
            return value;
        }

        if (address == Option)
        {
            // The new rate counts from here on.
            int now = TimerNow();
            processor.Poke(Option, value);
            timerValue = now;
            timerBase = processor.Cycles;
            Schedule();
            return value;
        }

        if (address == eepromControl)
            return Eeprom(value);
        if (registers[address] is { } register && value != 0 && IsModule(register))
        {
            modules.Add(register.Name);
            if (register.Name.StartsWith("PIE", StringComparison.Ordinal))
                enablesPeripherals = true;
            if (register.Name == "OSCCON")
                Stop("it changes the speed of the oscillator in OSCCON");
        }

        return value;
    }

    private void Interrupts()
    {
        int control = processor.Peek(InterruptControl);
        isTimerFlagged = (control & TimerFlag) != 0;
        if ((control & GlobalAndTimer) == GlobalAndTimer)
            processor.Interrupt();
    }

    private static bool IsModule(Register register) => !Quiet.Contains(register.Name);

    private void Stop(string reason) => Horizon ??= new Horizon(processor.Cycles, reason);

    // Pins that the data sheet calls analog read as 0 until the program frees them.
    private int Analog(PortState port)
    {
        if (device.NotDigitalAtReset.IsEmpty)
            return 0;
        if (isAnalogKnown)
            return port.Analog;
        foreach (PortPin pin in ports.Pins)
            portAt[pin.Port]!.Analog = 0;
        foreach (NotDigitalAtReset owner in device.NotDigitalAtReset)
        {
            if (DigitalPins.AreFreed(device, owner, r => processor.Peek(r.Address)))
                continue;
            foreach (PortPin pin in ports.Pins)
            {
                if (owner.Pins.Contains(pin.Name))
                    portAt[pin.Port]!.Analog |= 1 << pin.Bit;
            }
        }

        isAnalogKnown = true;
        return port.Analog;
    }

    // Setting or clearing a bit of a control register reads it, and looks at nothing that a module does.
    private bool ChangesABit() =>
        InstructionSet.Decode(processor.Word(processor.ProgramCounter - 1)) is { Instruction.Name: "bcf" or "bsf" };

    // Which bits of a port the instruction looks at: the one that it tests, or all; bit changes look at nothing.
    private int LookedAt()
    {
        int at = processor.ProgramCounter - 1;
        if ((uint)at >= (uint)lookedAt.Length)
            return 0;
        if (lookedAt[at] < 0)
            lookedAt[at] = InstructionSet.Decode(processor.Word(at)) switch
            {
                { Instruction.Name: "bcf" or "bsf" } => 0,
                { Instruction.Operands: OperandKind.RegisterBit } test => 1 << test.Second,
                _ => 0xFF,
            };
        return lookedAt[at];
    }

    private int Eeprom(int value)
    {
        const int read = 1,
            write = 2,
            ofProgram = 0x80;
        Register? address = device.FindRegister("EEADR"),
            data = device.FindRegister("EEDATA") ?? device.FindRegister("EEDAT");
        if (address is null || data is null || (value & (read | write)) == 0)
            return value;
        if ((value & ofProgram) != 0)
        {
            Stop("it reads or writes its own program memory");
            return value & ~(read | write);
        }

        int cell = HexAreas.Eeprom + processor.Peek(address.Address);
        if ((value & read) != 0)
            processor.Poke(data.Address, (program[cell] ?? 0xFF) & 0xFF);
        if ((value & write) != 0)
        {
            WritesEeprom = true;
            Stop("it writes the EEPROM, which takes a time that is not computed");
        }

        return value & ~(read | write);
    }

    private double WatchdogFactor()
    {
        int option = processor.Peek(Option);
        return (option & 8) != 0 ? 1 << (option & 7) : 1;
    }

    private int Ratio()
    {
        int option = processor.Peek(Option);
        return (option & 8) != 0 ? 1 : 2 << (option & 7);
    }

    private bool CountsPulses() => (processor.Peek(Option) & 0x20) != 0;

    // A write to Timer 0 stops it for two cycles and clears the prescaler.
    private void SetTimer(int value)
    {
        timerValue = value;
        timerBase = processor.Cycles + 2;
        Schedule();
    }

    private int TimerNow() =>
        CountsPulses() || processor.Cycles < timerBase
            ? timerValue
            : (int)((timerValue + (processor.Cycles - timerBase) / Ratio()) & 0xFF);

    private void Schedule() =>
        nextOverflow = timer < 0 || CountsPulses() ? long.MaxValue : timerBase + (256L - timerValue) * Ratio();

    private void Overflow()
    {
        processor.Poke(InterruptControl, processor.Peek(InterruptControl) | TimerFlag);
        isTimerFlagged = true;
        timerBase = nextOverflow;
        timerValue = 0;
        Schedule();
    }

    private enum RegisterKind : byte
    {
        Port,
        Direction,
        Latch,
    }

    private sealed class PortState
    {
        public PortPin?[] Pins { get; } = new PortPin?[8];

        public PinTrace[] Traces { get; } = [new(), new(), new(), new(), new(), new(), new(), new()];

        public int Latch { get; set; }

        public int Direction { get; set; } = 0xFF;

        public int Levels { get; set; }

        public int Open { get; set; }

        public int InputOnly { get; set; }

        public int Analog { get; set; }

        public int Seen { get; set; }

        private int shown = -1;

        public void Show(long cycle)
        {
            int now = ((Direction | InputOnly) << 8) | Latch;
            if (now == shown)
                return;
            shown = now;
            for (int bit = 0; bit < 8; bit++)
            {
                if (Pins[bit] is not { } pin)
                    continue;
                Traces[bit]
                    .Set(
                        cycle,
                        ((Direction | InputOnly) >> bit & 1) != 0 ? PinDrive.Input
                            : (Latch >> bit & 1) == 0 ? PinDrive.Low
                            : pin.IsOpenDrain ? PinDrive.Released
                            : PinDrive.High
                    );
            }
        }
    }
}
