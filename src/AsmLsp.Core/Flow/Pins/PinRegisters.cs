using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Flow.Pins;

/// <summary>The registers of a chip that decide what its pins are, each with a number of its own; number 0 is W.</summary>
internal sealed class PinRegisters
{
    public const int W = 0;
    private const int BankSize = 0x80;

    // Data sheets: I/O ports, A/D converter, comparator, serial ports, capture/compare/PWM, Timer0 and Timer1.
    private static readonly string[] Others =
    [
        "ADCON1",
        "CMCON",
        "CMCON0",
        "OPTION_REG",
        "OPTION",
        "RCSTA",
        "SSPCON",
        "CCP1CON",
        "CCP2CON",
        "T1CON",
        "INTCON",
    ];

    private readonly int[] numbers;
    private readonly int bankCount;

    public PinRegisters(Device device)
    {
        Device = device;
        bankCount = device.DataMemory.BankCount;
        numbers = new int[bankCount * BankSize];
        Array.Fill(numbers, -1);
        var all = ImmutableArray.CreateBuilder<Register?>();
        all.Add(null);
        foreach (Register register in device.Registers)
        {
            if (!IsTracked(register.Name))
                continue;
            foreach (int address in register.Addresses)
                numbers[address] = all.Count;
            all.Add(register);
        }

        All = all.ToImmutable();
        // A latch register of its own is written with the port.
        Latches = [.. All.Select(r => r is not null && IsPort(r.Name) ? Find("LAT" + r.Name[^1]) : -1)];
        Directions = [.. All.Select(r => r is not null && IsPort(r.Name) ? DirectionOf(r.Name) : -1)];
    }

    public Device Device { get; }

    /// <summary>The registers by their numbers; null for W.</summary>
    public ImmutableArray<Register?> All { get; }

    /// <summary>For each port the number of its latch register, or -1.</summary>
    public ImmutableArray<int> Latches { get; }

    /// <summary>For each port the number of its direction register, or -1.</summary>
    public ImmutableArray<int> Directions { get; }

    public int Count => All.Length;

    /// <summary>The ports, by their numbers.</summary>
    public IEnumerable<int> Ports =>
        Enumerable.Range(1, Count - 1).Where(i => IsPort(All[i]!.Name) && Directions[i] >= 0);

    /// <summary>The number of the register with a name, or -1.</summary>
    public int Find(string name)
    {
        for (int i = 1; i < All.Length; i++)
            if (All[i]!.Name == name || All[i]!.OtherNames.Contains(name))
                return i;
        return -1;
    }

    /// <summary>The numbers of the registers that an operand may mean, one a bank that may be selected; -1 for one that does not count.</summary>
    public void TargetsOf(int register, in FlowState state, List<int> into)
    {
        into.Clear();
        if (register == DataSpace.Indirect)
        {
            bool upper = bankCount > 2 && state.Irp == true;
            if (state.Pointer is { } pointer && (bankCount <= 2 || state.Irp is not null))
                into.Add(NumberAt(pointer | (upper ? 0x100 : 0)));
            return;
        }

        for (int bank = 0; bank < bankCount; bank++)
            if (
                state.MayBeBank(bank, bankCount)
                && NumberAt((bank * BankSize) | register) is var number
                && !into.Contains(number)
            )
                into.Add(number);
    }

    /// <summary>The number of the register at a full address, or -1.</summary>
    public int NumberAt(int address) => numbers[address & (numbers.Length - 1)];

    private static bool IsPort(string name) =>
        name == "GPIO" || (name.StartsWith("PORT", StringComparison.Ordinal) && name.Length == 5);

    private static bool IsTracked(string name) =>
        IsPort(name)
        || name.StartsWith("TRIS", StringComparison.Ordinal)
        || name.StartsWith("ANSEL", StringComparison.Ordinal)
        || (name.StartsWith("LAT", StringComparison.Ordinal) && name.Length == 4)
        || Array.IndexOf(Others, name) >= 0;

    private int DirectionOf(string port)
    {
        if (port != "GPIO")
            return Find("TRIS" + port[^1]);
        int found = Find("TRISIO");
        return found >= 0 ? found : Find("TRIS");
    }
}
