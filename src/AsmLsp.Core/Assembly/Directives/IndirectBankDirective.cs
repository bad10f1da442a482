using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>bankisel</c>: makes the bank of a register the one for indirect access.</summary>
internal sealed class IndirectBankDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["bankisel"];

    public override string Usage => "bankisel buffer";

    public override string Summary => "Sets the IRP bit for indirect access to the register, by one instruction.";

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        Value address = ValueAt(pass, line, 0, "a register");
        Operands.ReportSurplus(pass, line, 1, "one register");
        if (pass.Chip.Needed(line) is not { } device)
            return;
        if (device.DataMemory.BankCount <= 2)
            pass.Report(
                Catalogue.UnclearData,
                line.OperationPlace,
                line.Via,
                $"{device.Name} has two banks, so indirect access needs no IRP bit; printed listings do not agree on whether 'bankisel' makes a word there. Here it makes one."
            );
        pass.Placer.Place(BanksDirective.BitWord(0x03, 7, (address.Number & 0x100) != 0), line);
    }
}
