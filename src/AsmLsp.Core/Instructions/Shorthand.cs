using System.Collections.Frozen;
using System.Collections.Immutable;

namespace AsmLsp.Core.Instructions;

/// <summary>
/// A shorthand operation of the family manuals: a name for one to three instructions. Source of the expansions: a public
/// tutorial page agrees with 23 of them; BNZ, BNDC, SUBCF and the last lines of LCALL and LGOTO are from memory.
/// </summary>
public sealed class Shorthand
{
    private const int Status = 3,
        CarryBit = 0,
        DigitCarryBit = 1,
        ZeroBit = 2;

    private readonly ImmutableArray<Step> steps;

    private Shorthand(
        string name,
        OperandKind operands,
        string summary,
        bool dependsOnPages,
        params ReadOnlySpan<Step> steps
    )
    {
        Name = name;
        Operands = operands;
        Summary = summary;
        DependsOnPages = dependsOnPages;
        this.steps = [.. steps];
    }

    /// <summary>All shorthand operations by name.</summary>
    public static ImmutableArray<Shorthand> All { get; } =
    [
        Arithmetic("addcf", "btfsc", CarryBit, "incf", "Adds the carry to the register."),
        Arithmetic("adddcf", "btfsc", DigitCarryBit, "incf", "Adds the digit carry to the register."),
        new("b", OperandKind.Address11, "Jumps to the address.", false, Given("goto")),
        Branch("bc", "btfsc", CarryBit, "Jumps to the address when carry is 1."),
        Branch("bdc", "btfsc", DigitCarryBit, "Jumps to the address when digit carry is 1."),
        Branch("bnc", "btfss", CarryBit, "Jumps to the address when carry is 0."),
        Branch("bndc", "btfss", DigitCarryBit, "Jumps to the address when digit carry is 0."),
        Branch("bnz", "btfss", ZeroBit, "Jumps to the address when the result was not 0."),
        Branch("bz", "btfsc", ZeroBit, "Jumps to the address when the result was 0."),
        Bit("clrc", "bcf", CarryBit, "Sets carry to 0."),
        Bit("clrdc", "bcf", DigitCarryBit, "Sets digit carry to 0."),
        Bit("clrz", "bcf", ZeroBit, "Sets the zero flag to 0."),
        new(
            "lcall",
            OperandKind.Address11,
            "Sets the page bits and calls the routine, in whatever page it lies.",
            true,
            Given("call")
        ),
        new(
            "lgoto",
            OperandKind.Address11,
            "Sets the page bits and jumps to the address, in whatever page it lies.",
            true,
            Given("goto")
        ),
        new("movfw", OperandKind.Register, "Copies the register to W.", false, new Step(Get("movf"), null, 0)),
        new(
            "negf",
            OperandKind.RegisterDestination,
            "Makes the register its negative (two's complement).",
            false,
            new Step(Get("comf"), null, 1),
            Given("incf")
        ),
        Bit("setc", "bsf", CarryBit, "Sets carry to 1."),
        Bit("setdc", "bsf", DigitCarryBit, "Sets digit carry to 1."),
        Bit("setz", "bsf", ZeroBit, "Sets the zero flag to 1."),
        Bit("skpc", "btfss", CarryBit, "Skips the next instruction when carry is 1."),
        Bit("skpdc", "btfss", DigitCarryBit, "Skips the next instruction when digit carry is 1."),
        Bit("skpnc", "btfsc", CarryBit, "Skips the next instruction when carry is 0."),
        Bit("skpndc", "btfsc", DigitCarryBit, "Skips the next instruction when digit carry is 0."),
        Bit("skpnz", "btfsc", ZeroBit, "Skips the next instruction when the result was not 0."),
        Bit("skpz", "btfss", ZeroBit, "Skips the next instruction when the result was 0."),
        Arithmetic("subcf", "btfsc", CarryBit, "decf", "Takes the carry off the register."),
        Arithmetic("subdcf", "btfsc", DigitCarryBit, "decf", "Takes the digit carry off the register."),
        new(
            "tstf",
            OperandKind.Register,
            "Tests the register for 0 (sets or clears the zero flag).",
            false,
            new Step(Get("movf"), null, 1)
        ),
    ];

    private static readonly FrozenDictionary<string, Shorthand>.AlternateLookup<ReadOnlySpan<char>> ByName =
        All.ToFrozenDictionary(s => s.Name, StringComparer.OrdinalIgnoreCase).GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>The name in lower case.</summary>
    public string Name { get; }

    /// <summary>The operands that it takes.</summary>
    public OperandKind Operands { get; }

    /// <summary>What it does, in a sentence.</summary>
    public string Summary { get; }

    /// <summary>Whether instructions that set the page bits come first, as many as the chip has page bits.</summary>
    public bool DependsOnPages { get; }

    /// <summary>The instructions that it means (without those that set page bits).</summary>
    public IEnumerable<Instruction> Instructions => steps.Select(s => s.Instruction);

    /// <summary>Its instructions with the operands that are always the same.</summary>
    internal ImmutableArray<Step> Steps => steps;

    /// <summary>The shorthand with a name, without regard to case, or null.</summary>
    public static Shorthand? Find(ReadOnlySpan<char> name) =>
        ByName.TryGetValue(name, out Shorthand? found) ? found : null;

    /// <summary>The words for operands that are already cut to their bits, without those that set page bits.</summary>
    public IEnumerable<int> Expand(int first, int second)
    {
        foreach (Step step in steps)
            yield return step.Instruction.Encode(step.First ?? first, step.Second ?? second);
    }

    private static Instruction Get(string name) => InstructionSet.Find(name)!;

    private static Step Given(string name) => new(Get(name), null, null);

    private static Shorthand Bit(string name, string instruction, int bit, string summary) =>
        new(name, OperandKind.None, summary, false, new Step(Get(instruction), Status, bit));

    private static Shorthand Branch(string name, string test, int bit, string summary) =>
        new(name, OperandKind.Address11, summary, false, new Step(Get(test), Status, bit), Given("goto"));

    private static Shorthand Arithmetic(string name, string test, int bit, string then, string summary) =>
        new(name, OperandKind.RegisterDestination, summary, false, new Step(Get(test), Status, bit), Given(then));

    // What is null comes from the shorthand's own operands.
    internal sealed record Step(Instruction Instruction, int? First, int? Second);
}
