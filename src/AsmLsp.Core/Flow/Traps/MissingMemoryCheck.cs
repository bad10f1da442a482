using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// A register at an address where the chip has neither memory nor a register: what is written there is lost, and 0 is read. A variable that
/// is written and read fails; a write alone, as in programs that serve several chips, does no harm.
/// </summary>
internal sealed class MissingMemoryCheck : TrapCheck
{
    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device)
            return;
        DataMemory memory = device.DataMemory;
        for (int register = 0; register < memory.BankCount * 0x80; register++)
        {
            if (memory.IsImplemented(register) || context.UsesOf(register).Count == 0)
                continue;
            int first = -1;
            bool reads = false,
                writes = false;
            foreach (int at in context.UsesOf(register))
            {
                if (!context.IsLive(at) || !context.AccessAt(at).IsCertain || NamesMemory(context, memory, at))
                    continue;
                if (first < 0)
                    first = at;
                reads |= context.AccessAt(at).Reads;
                writes |= context.AccessAt(at).Writes;
            }

            if (first < 0)
                continue;
            string name = context.RegisterName(first),
                address = Assembly.Show.Hex(register, 2);
            if (reads && writes)
                report.Add(Catalogue.NoMemoryHere, context.Graph, first, name, address, device.Name);
            else
                report.AddNote(Catalogue.NoMemoryHere, context.Graph, first, name, address, device.Name);
        }
    }

    // In the wrong bank the name has memory, and that is another problem.
    private static bool NamesMemory(TrapContext context, DataMemory memory, int at) =>
        NamedRegister.Of(context.Graph, at, context.At(at)!.Value) is { } named && memory.IsImplemented(named.Address);
}
