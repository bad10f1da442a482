using System.Diagnostics;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Tests.Assembly;
using AsmLsp.Core.Text;
using Xunit.Abstractions;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Which words are reached, what is selected there, on which paths, and what could not be known.</summary>
public class FlowGraphTests(ITestOutputHelper output)
{
    private const string Head = " list p=16f877a\n include <p16f877a.inc>\n org 0\n";

    [Theory]
    // The address in W and PCLATH, an index added to it.
    [InlineData(
        " movlw high tab\n movwf PCLATH\n movf 20h,w\n addlw low tab\n btfsc STATUS,C\n incf PCLATH,f\n movwf PCL\n nop\ntab goto a\n goto b\n"
    )]
    [InlineData(
        " movlw high tab\n movwf PCLATH\n movlw low tab\n addwf 20h,w\n movwf PCL\n nop\ntab goto a\n goto b\n"
    )]
    // PCLATH is 0 from the reset on.
    [InlineData(" movf 20h,w\n addlw low tab\n movwf PCL\n nop\ntab goto a\n goto b\n")]
    // W is added to the counter itself.
    [InlineData(" movf 20h,w\n addwf PCL,f\n goto a\n goto b\n")]
    [InlineData(" movf 20h,w\n andlw 1\n addwf PCL,f\n goto a\n goto b\n nop\n")]
    public void Code_that_only_a_table_leads_to_is_reached(string lines)
    {
        FlowGraph graph = Graph(Head + lines + "x nop\na goto a\nb goto b\n end");
        Assert.Equal(Reach.Certain, graph.ReachOf(Address(graph, "a")));
        Assert.Equal(Reach.Certain, graph.ReachOf(Address(graph, "b")));
        Assert.True(graph.ReachOf(Address(graph, "x")) != Reach.Certain);
        Assert.Equal(0, graph.StateAt(Address(graph, "b")).Bank(4));
        Assert.Empty(graph.Unknowns.ToArray());
    }

    [Fact]
    public void A_mask_in_front_of_a_table_says_how_far_it_goes()
    {
        FlowGraph graph = Graph(Head + " movf 20h,w\n andlw 1\n addwf PCL,f\n nop\n goto a\nx goto x\na goto a\n end");
        Assert.Equal(Reach.None, graph.ReachOf(Address(graph, "x")));
    }

    [Fact]
    public void A_jump_to_one_computed_place_goes_there()
    {
        FlowGraph graph = Graph(
            Head + " movlw high far\n movwf PCLATH\n movlw low far\n movwf PCL\n org 0x900\nfar nop\n goto far\n end"
        );
        Assert.Equal(Reach.Certain, graph.ReachOf(0x900));
        Assert.Equal(1, graph.StateAt(0x900).LatchValue(0x18) >> 3);
    }

    [Fact]
    public void A_jump_of_unknown_aim_is_named_and_leaves_nothing_known_at_labels()
    {
        FlowGraph graph = Graph(Head + " movf 20h,w\n movwf PCL\na goto a\n end");
        Assert.Equal([new FlowUnknown(UnknownKind.ComputedJump, 1)], graph.Unknowns.ToArray());
        Assert.Equal((Reach.Possible, null), (graph.ReachOf(2), graph.StateAt(2).Bank(4)));
    }

    [Fact]
    public void What_could_not_be_known_is_named()
    {
        Assert.Equal(
            [new FlowUnknown(UnknownKind.NotAnInstruction, 1)],
            Graph(Head + " nop\n dw 1\n goto 0\n end").Unknowns.ToArray()
        );
        Assert.Equal(
            [new FlowUnknown(UnknownKind.Target, 0)],
            Graph(Head + " call 300h\n goto 0\n end").Unknowns.ToArray()
        );
        // The trim value of the oscillator is the factory's.
        Assert.Empty(
            Graph(" list p=12f675\n include <p12f675.inc>\n org 0\n call 3ffh\n goto 0\n end").Unknowns.ToArray()
        );
    }

    [Theory]
    [InlineData(" bsf STATUS,RP0\n bcf STATUS,RP0\n", 0)]
    [InlineData(" bsf STATUS,RP0\n", 1)]
    [InlineData(" movlw 60h\n movwf STATUS\n", 3)]
    [InlineData(" clrf STATUS\n", 0)]
    [InlineData(" call sub\n", 2)]
    [InlineData(" btfsc 20h,0\n bsf STATUS,RP0\n", null)]
    public void The_bank_is_known_where_every_path_selects_it(string lines, int? bank)
    {
        FlowGraph graph = Graph(Head + lines + "here nop\n goto here\nsub bsf STATUS,RP1\n return\n end");
        Assert.Equal(bank, graph.StateAt(Address(graph, "here")).Bank(4));
    }

    [Fact]
    public void Banks_0_and_3_are_not_mixed_up_to_1_and_2()
    {
        FlowGraph graph = Graph(
            Head + " btfss 20h,0\n goto here\n movlw 60h\n movwf STATUS\nhere nop\n goto here\n end"
        );
        FlowState state = graph.StateAt(Address(graph, "here"));
        Assert.Equal([true, false, false, true], Enumerable.Range(0, 4).Select(bank => state.MayBeBank(bank, 4)));
    }

    [Fact]
    public void IRP_and_FSR_are_followed()
    {
        FlowGraph graph = Graph(
            Head + " bsf STATUS,IRP\n movlw 30h\n movwf FSR\n incf FSR,f\nhere clrf INDF\n goto $\n end"
        );
        FlowState state = graph.StateAt(Address(graph, "here"));
        Assert.Equal((true, 0x31), (state.Irp, state.Pointer));
    }

    [Fact]
    public void Each_path_to_a_bank_names_the_line_that_selects_it()
    {
        FlowGraph graph = Graph(
            Head + " btfss 20h,0\n goto here\n nop\n bsf STATUS,RP0\n nop\nhere clrf PORTB\n goto $\n end"
        );
        Assert.Equal(
            [new BankPath(0, BankReason.Reset, -1, -1), new BankPath(1, BankReason.Instruction, 3, -1)],
            graph.BankPathsTo(Address(graph, "here")).ToArray()
        );
    }

    [Fact]
    public void A_path_through_a_call_names_the_call()
    {
        FlowGraph graph = Graph(
            Head
                + " call sub\n bsf STATUS,RP0\n call sub\n call back\nend0 nop\n goto $\nsub clrf PORTB\n return\nback bcf STATUS,RP0\n return\n end"
        );
        Assert.Equal(
            [new BankPath(0, BankReason.Reset, -1, 0), new BankPath(1, BankReason.Instruction, 1, 2)],
            graph.BankPathsTo(Address(graph, "sub")).ToArray()
        );
        Assert.Equal([new BankPath(0, BankReason.Call, 3, -1)], graph.BankPathsTo(Address(graph, "end0")).ToArray());
    }

    [Fact]
    public void An_interrupt_that_does_not_put_the_bank_back_leaves_it_unknown_where_interrupts_are_on()
    {
        const string Lost = " bsf STATUS,RP0\n bcf PIE1,0\n retfie\n",
            Kept =
                " movwf 70h\n swapf STATUS,w\n movwf 71h\n bsf STATUS,RP0\n bcf PIE1,0\n swapf 71h,w\n movwf STATUS\n swapf 70h,f\n swapf 70h,w\n retfie\n";
        foreach ((string code, int? bank) in (ReadOnlySpan<(string, int?)>)[(Lost, null), (Kept, 0)])
        {
            FlowGraph graph = Graph(
                Head + " goto main\n org 4\n" + code + "main nop\n bsf INTCON,GIE\nhere nop\n goto here\n end"
            );
            Assert.Equal(bank, graph.StateAt(Address(graph, "here")).Bank(4));
            Assert.Equal(0, graph.StateAt(Address(graph, "main")).Bank(4));
        }
    }

    [Fact]
    public void Recursion_comes_to_an_end()
    {
        FlowGraph graph = Graph(
            Head
                + " call a\nhere goto here\na btfss 20h,0\n return\n call b\n return\nb bsf STATUS,RP0\n call a\n return\n end"
        );
        Assert.Null(graph.StateAt(Address(graph, "here")).Bank(4));
        Assert.Null(graph.Routine(Address(graph, "a"))!.Depth);
    }

    [Fact]
    public void A_whole_memory_of_tangled_jumps_comes_to_an_end()
    {
        var times = new List<double>();
        for (int seed = 0; seed < 6; seed++)
        {
            ProgramAnalysis program = Assembler.Assemble(new SourceFile("t.asm", SourceText.From(Tangle(seed))));
            Assert.False(program.HasErrors);
            double fastest = double.MaxValue;
            for (int run = 0; run < 8; run++)
            {
                var watch = Stopwatch.StartNew();
                var fresh = new FlowGraph(program);
                _ = fresh.Unknowns;
                fastest = Math.Min(fastest, watch.Elapsed.TotalMilliseconds);
            }

            times.Add(fastest);
            FlowGraph graph = FlowGraph.Of(program);
            int unknown = graph.Unknowns.Length;
            Assert.Equal(0x2000, graph.End);
            Assert.True(seed % 2 == 0 || unknown > 0);
        }

        output.WriteLine(string.Join(", ", times.Select(t => $"{t:0.0} ms")));
    }

    // 8,192 words: jumps, calls, returns, skips, bank bits, tables; every odd seed with jumps of unknown aim too.
    internal static string Tangle(int seed)
    {
        var random = new Random(seed);
        var text = new StringBuilder(" list p=16f877a\n include <p16f877a.inc>\n org 0\n");
        for (int i = 0; i < 16; i++)
            text.Append($" call 0x{random.Next(0x2000):X}\n");
        for (int i = 16; i < 0x2000; i++)
        {
            int to = random.Next(0x2000);
            text.Append(
                random.Next(12) switch
                {
                    0 or 1 or 2 => $" goto 0x{to:X}\n",
                    3 or 4 => $" call 0x{to:X}\n",
                    5 => " return\n",
                    6 or 7 => " btfsc 20h,1\n",
                    8 => $" b{(random.Next(2) == 0 ? 's' : 'c')}f STATUS,{random.Next(5, 8)}\n",
                    9 => $" bsf PCLATH,{random.Next(5)}\n",
                    10 => seed > 3 ? " addwf PCL,f\n" : " incf FSR,f\n",
                    _ => seed % 2 == 1 && random.Next(40) == 0 ? " movwf PCL\n" : $" movlw 0x{random.Next(256):X}\n",
                }
            );
        }

        return text.Append(" end\n").ToString();
    }

    private static FlowGraph Graph(string source)
    {
        ProgramAnalysis program = Check.Assemble(source);
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        return FlowGraph.Of(program);
    }

    private static int Address(FlowGraph graph, string label) => graph.Program.FindSymbol(label)!.Value;
}
