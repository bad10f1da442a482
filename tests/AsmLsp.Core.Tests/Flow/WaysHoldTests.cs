using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>
/// Random programs are run word by word, with inputs that are random too; whatever the graph says of banks, PCLATH and reach
/// must hold at every step. What instructions do: data sheet DS40300C, instruction set.
/// </summary>
public class WaysHoldTests
{
    private const int Status = 3,
        Latch = 0x0A,
        Steps = 1500;

    [Fact]
    public void What_is_known_of_banks_and_pages_holds_whatever_way_a_program_takes()
    {
        int known = 0;
        for (int seed = 0; seed < 400; seed++)
        {
            var random = new Random(seed);
            string source = RandomProgram(random);
            ProgramAnalysis program = Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));
            Assert.False(program.HasErrors, source + string.Join("\n", program.Problems.Select(p => p.Message)));
            FlowGraph graph = FlowGraph.Of(program);
            for (int run = 0; run < 3; run++)
                known += Run(graph, program, random, seed, source);
        }

        // A graph that never knows anything would hold as well.
        Assert.True(known > 20_000, $"The bank was known at {known} steps only.");
    }

    private static int Run(FlowGraph graph, ProgramAnalysis program, Random random, int seed, string source)
    {
        int at = 0,
            w = random.Next(256),
            status = 0x18,
            latch = 0,
            known = 0;
        var stack = new Stack<int>();
        for (int step = 0; step < Steps; step++)
        {
            if (!program.Image.TryGet(at, out ushort word, out _) || InstructionSet.Decode(word) is not { } decoded)
                return known;
            FlowState state = graph.StateAt(at);
            int bank = (status >> 5) & 3;
            string where = $"seed {seed}, address {at:X4}, bank {bank}, PCLATH {latch:X2}\n{source}";
            Assert.True(graph.ReachOf(at) != Reach.None && state.IsReached, where);
            Assert.True(state.MayBeBank(bank, 4), where);
            if (state.Bank(4) is not null)
                known++;
            for (int bit = 0; bit < 5; bit++)
                Assert.True(state.Latch(bit) is not { } sure || sure == ((latch >> bit & 1) != 0), where);

            (string name, int f, int d) = (decoded.Instruction.Name, decoded.First, decoded.Second);
            int value = f switch
            {
                Status => status,
                Latch => latch,
                _ => random.Next(256),
            };
            bool skip = false;
            int next = at + 1,
                result = value;
            switch (name)
            {
                case "goto":
                    next = f;
                    break;
                case "call":
                    if (stack.Count == 8)
                        return known;
                    stack.Push(at + 1);
                    next = f;
                    break;
                case "return" or "retlw":
                    if (name == "retlw")
                        w = f;
                    if (!stack.TryPop(out next))
                        return known;
                    break;
                case "movlw":
                    w = f;
                    break;
                case "andlw":
                    w &= f;
                    break;
                case "iorlw":
                    w |= f;
                    break;
                case "xorlw":
                    w ^= f;
                    break;
                case "addlw":
                    w = (w + f) & 0xFF;
                    break;
                case "sublw":
                    w = (f - w) & 0xFF;
                    break;
                case "clrw":
                    w = 0;
                    break;
                case "movf":
                    result = value;
                    break;
                case "movwf":
                    (result, d) = (w, 1);
                    break;
                case "clrf":
                    (result, d) = (0, 1);
                    break;
                case "swapf":
                    result = ((value << 4) | (value >> 4)) & 0xFF;
                    break;
                case "decfsz":
                    result = (value - 1) & 0xFF;
                    skip = result == 0;
                    break;
                case "bsf":
                    (result, d) = (value | 1 << d, 1);
                    break;
                case "bcf":
                    (result, d) = (value & ~(1 << d), 1);
                    break;
                case "btfsc":
                    skip = (value & 1 << d) == 0;
                    break;
                case "btfss":
                    skip = (value & 1 << d) != 0;
                    break;
                case "addwf" when f == 2:
                    next = at + 1 + w;
                    if (latch != 0 || w > 3)
                        return known;
                    break;
                case "nop":
                    break;
                default:
                    Assert.Fail($"{name} is not carried out here.");
                    break;
            }

            bool writes =
                decoded.Instruction.Operands is OperandKind.Register or OperandKind.RegisterDestination
                || name is "bsf" or "bcf";
            if (writes && f != 2)
            {
                if (d == 0)
                    w = result;
                // TO and PD cannot be written, and the chip sets Z itself; both have no part in the bank.
                else if (f == Status)
                    status = (result & 0xE7) | (status & 0x18);
                else if (f == Latch)
                    latch = result & 0x1F;
            }

            at = skip ? at + 2 : next;
        }

        return known;
    }

    private static string RandomProgram(Random random)
    {
        var text = new StringBuilder(" list p=16f628\n org 0\n");
        int routines = random.Next(1, 5);
        for (int r = 0; r <= routines; r++)
        {
            text.Append($"r{r}\n");
            int lines = random.Next(3, 14);
            for (int i = 0; i < lines; i++)
                text.Append($"l{r}_{i} {RandomLine(random, r, routines, lines)}\n");
            if (random.Next(4) == 0)
                text.Append(" movf 0x20,w\n andlw 3\n addwf 2,f\n retlw 1\n goto r0\n retlw 3\n goto l")
                    .Append(r)
                    .Append("_0\n");
            text.Append(r == 0 ? " goto r0\n" : " return\n");
        }

        return text.Append(" end\n").ToString();
    }

    private static string RandomLine(Random random, int routine, int routines, int lines) =>
        random.Next(22) switch
        {
            0 or 1 => "bsf 3,5",
            2 or 3 => "bcf 3,5",
            4 => "bsf 3,6",
            5 => "bcf 3,6",
            6 => $"bsf 0x0A,{random.Next(5)}",
            7 => "clrf 0x0A",
            8 => $"movlw 0x{random.Next(256):X2}",
            9 => random.Next(3) == 0 ? "movwf 3" : "movwf 0x20",
            10 => random.Next(2) == 0 ? "movf 3,w" : "swapf 3,w",
            11 => $"{(random.Next(2) == 0 ? "andlw" : "iorlw")} 0x{random.Next(256):X2}",
            12 => random.Next(2) == 0 ? $"xorlw 0x{random.Next(256):X2}" : $"sublw 0x{random.Next(256):X2}",
            13 => random.Next(2) == 0 ? "movwf 0x0A" : "clrf 3",
            14 or 15 when routine < routines => $"call r{random.Next(routine + 1, routines + 1)}",
            16 => $"btfsc 6,{random.Next(8)}",
            17 => "btfss 3,5",
            18 => "decfsz 0x21,f",
            19 => $"goto l{routine}_{random.Next(lines)}",
            20 => random.Next(3) == 0 ? "return" : "nop",
            _ => "nop",
        };
}
