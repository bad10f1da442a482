using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>banksel</c>: makes the bank of a register the selected one.</summary>
internal sealed class BanksDirective : Directive
{
    private const int Status = 0x03;
    private const int BankBit0 = 5;
    private const int BankBit1 = 6;

    public override IReadOnlyList<string> Words { get; } = ["banksel"];

    public override string Usage => "banksel TRISB";

    public override string Summary =>
        "Selects the bank of the register: one instruction on chips of two banks, two on chips of four (RP0, then RP1).";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Value address = ValueAt(pass, line, 0, "a register");
        Operands.ReportSurplus(pass, line, 1, "one register");
        if (pass.Chip.Needed(line) is not { } device)
            return;
        int banks = device.DataMemory.BankCount;
        int bank = address.Number >> 7;
        if (bank < 0 || bank >= banks)
        {
            pass.Report(
                Catalogue.BankMissing,
                line.Place(line.Syntax.Operands[0].Span),
                line.Via,
                Show.Hex(address.Number),
                Show.Decimal(bank),
                device.Name,
                Show.Decimal(banks),
                Show.Decimal(bank & (banks - 1))
            );
        }

        // A chip with one bank has nothing to select.
        if (banks > 1)
            pass.Placer.Place(BitWord(Status, BankBit0, (bank & 1) != 0), line);
        if (banks > 2)
            pass.Placer.Place(BitWord(Status, BankBit1, (bank & 2) != 0), line);
    }

    /// <summary>BSF or BCF of a register's bit.</summary>
    internal static int BitWord(int register, int bit, bool set) => (set ? 0x1400 : 0x1000) | (bit << 7) | register;
}
