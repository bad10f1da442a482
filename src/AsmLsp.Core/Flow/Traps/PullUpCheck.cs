using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// Pull-ups are chosen for pins, or the comment says that they are turned on, while bit 7 of OPTION stays 1, which keeps all of them off
/// (data sheet DS35007B, register 2-2; DS41190C, section 3.2.1 for WPU).
/// </summary>
internal sealed class PullUpCheck : TrapCheck
{
    private const int Off = 0x80;
    private const int Option = 0x81;

    // Authors of many languages write the English word; negated, it says that they are off.
    private static readonly string[] Words = ["pull-up", "pullup", "pull up"];
    private static readonly string[] Negations =
    [
        "off",
        "disab",
        "no ",
        "not ",
        "without",
        "aus",
        "sans",
        "senza",
        "sin ",
        "kein",
        "deakt",
        "desab",
        "désact",
    ];

    public override void Run(TrapContext context, FlowReport report)
    {
        if (context.Device is not { } device || context.HasWildJump || MayTurnOn(context))
            return;
        foreach (Register register in device.Registers)
        {
            if (!register.Name.StartsWith("WPU", StringComparison.Ordinal) || register.Name == "WPUDA")
                continue;
            foreach (int at in context.UsesOf(register.Address))
            {
                RegisterAccess access = context.AccessAt(at);
                if (!context.IsLive(at) || !access.Writes || !ChoosesPins(context, at))
                    continue;
                report.Add(Catalogue.PullUpsOff, context.Graph, at, $"{register.Name} chooses pins for pull-ups");
                return;
            }
        }

        foreach (int at in context.UsesOf(Option))
        {
            if (!context.IsLive(at) || !context.AccessAt(at).Writes)
                continue;
            int load = context.NameAt(at - 1) == "movlw" ? at - 1 : at;
            if (!Says(context.CommentAt(at)) && !Says(context.CommentAt(load)))
                continue;
            report.AddNote(Catalogue.PullUpsOff, context.Graph, at, "The comment speaks of pull-ups");
            return;
        }
    }

    private static bool MayTurnOn(TrapContext context)
    {
        foreach (int at in context.UsesOf(Option))
        {
            RegisterAccess access = context.AccessAt(at);
            if (!access.Writes || (access.Mask & Off) == 0 || context.NameAt(at) == "bsf")
                continue;
            if (context.NameAt(at) is "movwf" or "option" && context.Graph.StateAt(at).WBit(Off) == true)
                continue;
            return true;
        }

        return context.WritesIndirectly && context.MayWrite(Option);
    }

    private static bool ChoosesPins(TrapContext context, int at) =>
        context.NameAt(at) switch
        {
            "bsf" => true,
            "movwf" => context.Graph.StateAt(at).W is > 0,
            _ => false,
        };

    private static bool Says(string comment)
    {
        foreach (string word in Words)
        {
            int found = comment.IndexOf(word, StringComparison.OrdinalIgnoreCase);
            if (found < 0)
                continue;
            foreach (string negation in Negations)
                if (comment.Contains(negation, StringComparison.OrdinalIgnoreCase))
                    return false;
            return true;
        }

        return false;
    }
}
