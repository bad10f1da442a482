using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Flow.Traps;

/// <summary>
/// An interrupt changes W, the flags, PCLATH or FSR without saving them, while the main program can be interrupted where it needs them; or it
/// changes the flags again after it has restored them. Saving W and STATUS: data sheet DS35007B, section 6.9, example 6-1.
/// </summary>
internal sealed class InterruptContextCheck : TrapCheck
{
    private const int PageLatch = 0x0A;
    private const int LongestEntry = 64,
        MostLooks = 64,
        LongestExit = 12;
    private const StatusFlags Flags = StatusFlags.Carry | StatusFlags.DigitCarry | StatusFlags.Zero;

    public override void Run(TrapContext context, FlowReport report)
    {
        if (
            context.Graph.Calls.Interrupt is not { } handler
            || context.HasWildJump
            || context.InMain[handler.Address]
            || !context.Interrupts.MayBeEnabled
            || context.Interrupts.Enabled.IsEmpty
        )
            return;
        Needs needs = NeedsOf(context);
        var lost = new List<string>(4);
        if (needs.W && ChangesW(context) && !SavesW(context, handler.Address))
            lost.Add("W");
        if (needs.Flags && ChangesFlags(context) && !Copies(context, TrapContext.Status))
            lost.Add("the flags in STATUS");
        if (needs.Latch && Changes(context, PageLatch) && !Copies(context, PageLatch))
            lost.Add("PCLATH");
        if (needs.Pointer && Changes(context, TrapContext.Pointer) && !Copies(context, TrapContext.Pointer))
            lost.Add("FSR");
        if (lost.Count > 0)
            report.Add(
                Catalogue.InterruptSavesNothing,
                context.Graph,
                FirstWord(context, handler.Address),
                InWords(lost)
            );
        else if (needs.Flags)
            RestoreOrder(context, handler, report);
    }

    /// <summary>The first instruction of a handler, after the jump that usually is at the vector.</summary>
    public static int FirstWord(TrapContext context, int vector)
    {
        int at = vector;
        for (int i = 0; i < 4 && context.At(at) is { Instruction.IsJump: true }; i++)
        {
            int target = context.Graph.Walk.TargetOf(at);
            if (!context.IsLive(target))
                break;
            at = target;
        }

        return at;
    }

    /// <summary>Whether an instruction gives W a new value.</summary>
    public static bool WritesW(in DecodedInstruction decoded) =>
        decoded.Instruction.Operands switch
        {
            OperandKind.RegisterDestination => decoded.Second == 0,
            OperandKind.Literal8 => true,
            _ => decoded.Instruction.Name == "clrw",
        };

    /// <summary>Whether an instruction uses the value in W.</summary>
    public static bool ReadsW(in DecodedInstruction decoded) =>
        decoded.Instruction.Name
            is "movwf"
                or "addwf"
                or "andwf"
                or "iorwf"
                or "subwf"
                or "xorwf"
                or "addlw"
                or "andlw"
                or "iorlw"
                or "sublw"
                or "xorlw"
                or "tris"
                or "option";

    private readonly record struct Needs(bool W, bool Flags, bool Latch, bool Pointer);

    // What the main program keeps between two instructions while an interrupt may come.
    private static Needs NeedsOf(TrapContext context)
    {
        bool w = false,
            flags = false,
            latch = false,
            pointer = false;
        int looks = 0;
        for (int at = 0; at < context.End; at++)
        {
            if (!context.InMain[at] || !context.IsLive(at) || !context.Interrupts.MayInterrupt(at))
                continue;
            DecodedInstruction decoded = context.At(at)!.Value;
            RegisterAccess access = context.AccessAt(at);
            // What runs once at the start, after interrupts are on, is hurt by one interrupt in a million: only what runs again counts.
            w |= !w && ReadsW(decoded) && context.At(at - 1) is { } before && WritesW(before) && IsRepeated(at);
            flags |= !flags && NeedsFlags(decoded, access) && IsRepeated(at);
            latch |= access is { Writes: true, Register: PageLatch };
            pointer |= decoded.First == TrapContext.Indirect && NamedRegister.Takes(decoded);
        }

        return new Needs(w, flags, latch, pointer);

        bool IsRepeated(int at) => looks++ < MostLooks && context.IsRepeated(at);
    }

    private static bool NeedsFlags(in DecodedInstruction decoded, in RegisterAccess access) =>
        (decoded.Instruction.MaySkip && access.Register == TrapContext.Status && (access.Mask & 7) != 0)
        || decoded.Instruction.Name is "rlf" or "rrf";

    private static bool ChangesW(TrapContext context)
    {
        for (int at = 0; at < context.End; at++)
            if (context.InInterrupt[at] && context.At(at) is { } decoded && WritesW(decoded))
                return true;
        return false;
    }

    private static bool ChangesFlags(TrapContext context)
    {
        for (int at = 0; at < context.End; at++)
            if (context.InInterrupt[at] && context.At(at) is { } decoded && (decoded.Instruction.Affects & Flags) != 0)
                return true;
        return false;
    }

    private static bool Changes(TrapContext context, int register)
    {
        foreach (int at in context.UsesOf(register))
            if (context.InInterrupt[at] && context.AccessAt(at).Writes)
                return true;
        return false;
    }

    // Any reading of it into W counts as saving.
    private static bool Copies(TrapContext context, int register)
    {
        foreach (int at in context.UsesOf(register))
            if (context.InInterrupt[at] && context.NameAt(at) is "swapf" or "movf" && context.At(at)!.Value.Second == 0)
                return true;
        return false;
    }

    // On every path from the vector a MOVWF comes before the first new value in W. A return on the way is not judged.
    private static bool SavesW(TrapContext context, int vector)
    {
        FlowWalk walk = context.Graph.Walk;
        var seen = new HashSet<int> { vector };
        var open = new Stack<int>();
        var next = new List<int>();
        open.Push(vector);
        while (open.TryPop(out int at) && seen.Count < LongestEntry)
        {
            if (context.At(at) is not { } decoded || decoded.Instruction.Name == "movwf")
                continue;
            if (WritesW(decoded))
                return false;
            if (decoded.Instruction.IsCall)
                (next = []).Add(walk.TargetOf(at));
            else
                walk.Successors(at, next);
            foreach (int to in next)
                if (to >= 0 && seen.Add(to))
                    open.Push(to);
        }

        return true;
    }

    // MOVF for W after STATUS is back changes Z again; SWAPF does not.
    private static void RestoreOrder(TrapContext context, RoutineBody handler, FlowReport report)
    {
        foreach (int start in handler.Words)
        {
            if (context.NameAt(start) != "movwf" || context.AccessAt(start).Register != TrapContext.Status)
                continue;
            int changed = -1;
            for (int at = start + 1; at <= start + LongestExit && context.At(at) is { } decoded; at++)
            {
                if (decoded.Instruction.Name == "retfie")
                {
                    if (changed >= 0)
                        report.Add(
                            Catalogue.InterruptFlagsChanged,
                            context.Graph,
                            changed,
                            context.NameAt(changed).ToUpperInvariant()
                        );
                    break;
                }

                if (decoded.Instruction.IsCall || decoded.Instruction.IsJump || decoded.Instruction.MaySkip)
                    break;
                if (changed < 0 && (decoded.Instruction.Affects & Flags) != 0)
                    changed = at;
            }
        }
    }

    private static string InWords(List<string> names) =>
        names.Count == 1 ? names[0] : string.Join(", ", names[..^1]) + " and " + names[^1];
}
