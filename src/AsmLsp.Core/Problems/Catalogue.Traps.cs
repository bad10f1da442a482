namespace AsmLsp.Core.Problems;

/// <content>Traps of the bench: what stops or endangers a program whose lines are all correct.</content>
public static partial class Catalogue
{
    /// <summary>Most checks need a chip.</summary>
    public static readonly ProblemKind ChecksWithoutChip = Information(
        "checks-without-chip",
        "The program names no chip, so banks, pins, memory and configuration are not checked. Add a line like ' list p=16f84a' at the top."
    );

    /// <summary>An interrupt loses what the main program works with.</summary>
    public static readonly ProblemKind InterruptSavesNothing = Warning(
        "interrupt-saves-nothing",
        "The interrupt changes {0} and does not save it. The main program, interrupted between two instructions, continues with wrong values. Save it first, and restore it before RETFIE."
    );

    /// <summary>The flags are changed again after they were restored.</summary>
    public static readonly ProblemKind InterruptFlagsChanged = Warning(
        "interrupt-flags-changed",
        "{0} changes the flags after STATUS was restored: the main program may see a wrong Z. Restore W with two SWAPF, which change no flag."
    );

    /// <summary>An interrupt flag stays set.</summary>
    public static readonly ProblemKind InterruptFlagLeft = Warning(
        "interrupt-flag-left",
        "{0} is still set when the interrupt returns: {1}. The same interrupt then comes again at once. Clear the flag in the handler."
    );

    /// <summary>Interrupts are on and nothing handles them.</summary>
    public static readonly ProblemKind InterruptWithoutHandler = Warning(
        "interrupt-without-handler",
        "Interrupts are enabled here, and {0} allows one, but there is no handler at {1}: {2}. Place the handler there, ending with RETFIE."
    );

    /// <summary>A handler that never runs.</summary>
    public static readonly ProblemKind InterruptsNeverEnabled = Information(
        "interrupts-never-enabled",
        "This interrupt handler never runs: nothing sets INTCON,GIE."
    );

    /// <summary>A routine with variables serves the main program and the interrupt.</summary>
    public static readonly ProblemKind SharedRoutine = Information(
        "shared-routine",
        "{0} is called by the main program and by the interrupt, and writes {1}. An interrupt while it runs changes {1} under it. Give the interrupt a routine of its own."
    );

    /// <summary>The EEPROM is written without its sequence.</summary>
    public static readonly ProblemKind EepromWriteSequence = Warning(
        "eeprom-write-sequence",
        "This starts no write to the EEPROM: {0}. Write 0x55 and then 0xAA to EECON2, and set WR in the next instruction."
    );

    /// <summary>The EEPROM is written while interrupts are on.</summary>
    public static readonly ProblemKind EepromWriteInterrupted = Warning(
        "eeprom-write-interrupted",
        "Interrupts are on during the write sequence of the EEPROM: one that comes within it stops the write. Clear INTCON,GIE before the sequence, and set it afterwards."
    );

    /// <summary>The A/D result is read too early.</summary>
    public static readonly ProblemKind ResultReadEarly = Warning(
        "result-read-early",
        "{0} is read before the conversion started in line {1} can be finished: this is the old result. Wait until the GO bit of ADCON0 is 0."
    );

    /// <summary>A number is where a register is taken.</summary>
    public static readonly ProblemKind NumberAsRegister = Warning(
        "number-as-register",
        "{0} is {1} here, not the number. Is {2} {0} meant? If not, give the register a name."
    );

    /// <summary>A comparison replaces what it compares.</summary>
    public static readonly ProblemKind ComparisonOverwrites = Warning(
        "comparison-overwrites",
        "{1} without a destination puts its result into {0}: the comparison destroys what it compares. Write ',w' to compare only, or ',f' if the register is meant."
    );

    /// <summary>Carry is tested after an instruction that leaves it alone.</summary>
    public static readonly ProblemKind CarryNotChanged = Warning(
        "carry-not-changed",
        "{0} does not change carry, so this tests an old value. Test {1} instead, or use ADDWF or SUBWF, which set carry."
    );

    /// <summary>A comparison that always comes out the same.</summary>
    public static readonly ProblemKind ComparisonAlwaysSame = Warning(
        "comparison-always-same",
        "This test {1} skips: {0}. Check the constant and the flag."
    );

    /// <summary>A counter is reset while it is below its limit.</summary>
    public static readonly ProblemKind CarrySenseReversed = Warning(
        "carry-sense-reversed",
        "{0} is cleared while it is still below {1}, so it never counts that far. Carry is tested in the wrong sense: write {2}."
    );

    /// <summary>A shift with a carry that nothing has set.</summary>
    public static readonly ProblemKind CarryUnknown = Information(
        "carry-unknown",
        "{0} shifts carry into {1}, but nothing has set carry since the reset: the bit is random. Write 'bcf STATUS,C' or 'bsf STATUS,C' before it."
    );

    /// <summary>A variable is read before it is written.</summary>
    public static readonly ProblemKind ReadBeforeWrite = Information(
        "read-before-write",
        "{0} is read here {1}. After power-up it holds any value. Give it one at the start of the program."
    );

    /// <summary>A table index is used before it is written.</summary>
    public static readonly ProblemKind TableIndexUnset = Warning(
        "table-index-unset",
        "{0} chooses an entry of a table here {1}. After power-up it holds any value, and the jump may go anywhere. Clear it at the start of the program."
    );

    /// <summary>A table index grows without limit.</summary>
    public static readonly ProblemKind TableIndexUnlimited = Warning(
        "table-index-unlimited",
        "{0} is counted {1} again and again and nothing limits it: the table jump that uses it in line {2} then leaves its table. Compare it with its end after each step."
    );

    /// <summary>W is loaded twice.</summary>
    public static readonly ProblemKind ValueLost = Information(
        "value-lost",
        "{0} is lost: {1} in the next line gives W another value. Is an instruction missing between them, or MOVWF meant?"
    );

    /// <summary>A register where the chip has none.</summary>
    public static readonly ProblemKind NoMemoryHere = Warning(
        "no-memory-here",
        "{0} is at {1}, where the {2} has no memory: what is written there is lost, and 0 is read. Choose an address that the chip has."
    );

    /// <summary>A variable lies on a register of the chip.</summary>
    public static readonly ProblemKind VariableOverRegister = Warning(
        "variable-over-register",
        "{0} is at {1}, which is the register {2} of the {3}. Variables of this chip start at {4}."
    );

    /// <summary>A name of the program hides a register of the chip.</summary>
    public static readonly ProblemKind NameOfRegister = Warning(
        "name-of-register",
        "{0} means {1} in this program, but on the {2} it is the register at {3}. Every line with {0} now reaches {1}. Choose another name."
    );

    /// <summary>Two variables share an address.</summary>
    public static readonly ProblemKind SameAddress = Information(
        "same-address",
        "{0} and {1} (line {3}) are both at {2}: writing one changes the other."
    );

    /// <summary>A routine runs on into another file's.</summary>
    public static readonly ProblemKind FallsIntoNext = Information(
        "falls-into-next",
        "After this line the program runs on into {0}{1}. Is a RETURN missing here?"
    );

    /// <summary>A pin is driven that stays an input.</summary>
    public static readonly ProblemKind DirectionNeverSet = Warning(
        "direction-never-set",
        "{0}, as after reset: {1}. Make {2} at the start."
    );

    /// <summary>A pin that cannot drive is set.</summary>
    public static readonly ProblemKind InputOnlyPinDriven = Warning(
        "input-only-pin-driven",
        "{0} of the {1} can only be an input: this has no effect. Use another pin."
    );

    /// <summary>An open-drain pin is set high.</summary>
    public static readonly ProblemKind OpenDrainPinHigh = Information(
        "open-drain-pin-high",
        "{0} of the {1} can pull low only (open drain): it goes high only with a pull-up resistor on the board."
    );

    /// <summary>Pull-ups are expected and off.</summary>
    public static readonly ProblemKind PullUpsOff = Warning(
        "pull-ups-off",
        "{0}, but bit 7 of OPTION_REG is never cleared, so all pull-ups stay off. Clear that bit."
    );

    /// <summary>The reset pin is read.</summary>
    public static readonly ProblemKind ResetPinRead = Warning(
        "reset-pin-read",
        "{0} is the reset pin in this configuration: while it is low the chip does not run, so the program never sees it low. Turn the reset pin off in the configuration."
    );

    /// <summary>The reset pin is an input that nothing reads.</summary>
    public static readonly ProblemKind ResetPinOpen = Information(
        "reset-pin-open",
        "{0} is an input in this configuration, and nothing reads it. Do not leave it open on the board: connect it to ground or to the supply."
    );

    /// <summary>A port is read and written back while pins change direction.</summary>
    public static readonly ProblemKind ReadModifyWrite = Information(
        "read-modify-write",
        "This reads all pins of {0} and writes them back. While {1} is an input, its output latch takes the level of the pin. Set the latch again before {1} becomes an output."
    );

    /// <summary>A port with analog pins is read.</summary>
    public static readonly ProblemKind PortReadAnalog = Information(
        "port-read-analog",
        "{3} read 0 here: {1}, and the program never writes {2}."
    );

    /// <summary>An output on an analog pin is lost.</summary>
    public static readonly ProblemKind AnalogOutputLost = Warning(
        "analog-output-lost",
        "This turns {0} off: BSF reads all pins of {1} and writes them back, and {0} reads 0 because {2}. Write {3} at the start of the program."
    );

    /// <summary>Low-voltage programming is on.</summary>
    public static readonly ProblemKind LowVoltageOn = Information(
        "low-voltage-on",
        "Low-voltage programming is on. Keep {0} low with a resistor: when it is open or high, the chip may stop and wait to be programmed."
    );

    /// <summary>A loop without CLRWDT.</summary>
    public static readonly ProblemKind WatchdogNotInLoop = Warning(
        "watchdog-not-in-loop",
        "The loop that starts here never ends and holds no CLRWDT, but the watchdog is on: it resets the chip. Put CLRWDT into the loop."
    );

    /// <summary>Only the interrupt clears the watchdog.</summary>
    public static readonly ProblemKind WatchdogInInterrupt = Information(
        "watchdog-in-interrupt",
        "Only the interrupt clears the watchdog. It then runs on even when the main program hangs. Clear it in the main loop instead."
    );

    /// <summary>Instructions that never run.</summary>
    public static readonly ProblemKind UnusedCode = Unused(
        "unused-code",
        "No path leads here: {0}, down to line {1}, cannot run."
    );

    /// <summary>A name that nothing uses.</summary>
    public static readonly ProblemKind UnusedName = Unused("unused-name", "Nothing uses {0}.");
}
