using AsmLsp.Core.Assembly;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Cycles are counted by hand from data sheet DS35007B, table 7-2: 1 a word, 2 for jumps, calls, returns and skips that happen.</summary>
public class RoutineTests
{
    [Theory]
    // movlw, movwf; 9 laps of decfsz+goto (3), the last decfsz (2); return (2).
    [InlineData("w movlw .10\n movwf 0xC\nl decfsz 0xC,f\n goto l\n return", 2 + 9 * 3 + 2 + 2)]
    [InlineData("w movlw .10\n movwf 0xC\nl nop\n decfsz 0xC,f\n goto l\n return", 2 + 9 * 4 + 3 + 2)]
    // A counter that starts at 0 makes 256 laps.
    [InlineData("w clrf 0xC\nl decfsz 0xC,f\n goto l\n return", 1 + 255 * 3 + 2 + 2)]
    // Two counters: the inner one runs 256 laps (769 with its last) in each of 3 outer laps.
    [InlineData(
        "w movlw 3\n movwf 0xC\n clrf 0xD\nl decfsz 0xD,f\n goto l\n decfsz 0xC,f\n goto l\n return",
        3 + 3 * (255 * 3 + 2) + 2 * 3 + 2 + 2
    )]
    // The inner counter is loaded anew in each outer lap.
    [InlineData(
        "w movlw .200\n movwf 0xD\no movlw .100\n movwf 0xC\nl nop\n decfsz 0xC,f\n goto l\n decfsz 0xD,f\n goto o\n return",
        2 + 200 * (2 + 99 * 4 + 3) + 199 * 3 + 2 + 2
    )]
    // Three counters, all of 256 laps.
    [InlineData(
        "w clrf 0xC\n clrf 0xD\n clrf 0xE\nl decfsz 0xC,f\n goto l\n decfsz 0xD,f\n goto l\n decfsz 0xE,f\n goto l\n return",
        3 + 256 * (256 * 767 + 255 * 3 + 2) + 255 * 3 + 2 + 2
    )]
    // DECF with a test of the zero flag: 9 laps of 1+1+2, the last 1+2.
    [InlineData("w movlw .10\n movwf 0xC\nl decf 0xC,f\n btfss STATUS,Z\n goto l\n return", 2 + 9 * 4 + 3 + 2)]
    // W counts: ADDLW -1.
    [InlineData("w movlw 3\nl addlw 0xFF\n btfss STATUS,Z\n goto l\n return", 1 + 2 * 4 + 3 + 2)]
    [InlineData("w call x\n return\nx nop\n return", 2 + 1 + 2 + 2)]
    [InlineData("w addwf PCL,f\n retlw 1\n retlw 2", 2 + 2)]
    public void A_delay_is_counted(string routine, long cycles) =>
        Assert.Equal(new CycleRange(cycles, cycles), Time(routine));

    [Theory]
    [InlineData("w btfsc PORTA,0\n nop\n return", 2 + 2, 2 + 2)]
    [InlineData("w btfsc PORTA,0\n call x\n return\nx return", 2 + 2, 1 + 2 + 2 + 2)]
    [InlineData("w movf PORTB,w\n btfss STATUS,Z\n goto l\n nop\n nop\nl return", 1 + 1 + 2 + 2, 1 + 2 + 2 + 2)]
    public void A_routine_with_a_choice_has_a_shortest_and_a_longest_way(string routine, long least, long most) =>
        Assert.Equal(new CycleRange(least, most), Time(routine));

    [Theory]
    [InlineData("w btfss PORTA,0\n goto w\n return")]
    [InlineData("w decfsz 0xC,f\n goto w\n return")]
    [InlineData("w goto w")]
    [InlineData("w movwf PCL\n return")]
    [InlineData("w movlw 5\n movwf PORTB\nl decfsz PORTB,f\n goto l\n return")]
    public void What_depends_on_the_unknown_is_not_counted(string routine) => Assert.Null(Time(routine));

    [Fact]
    public void A_lap_that_reads_its_counter_is_not_taken_for_all()
    {
        // An odd counter makes BTFSS skip the jump (2) and takes the two NOPs (2), an even one jumps over them (1 + 2).
        long expected = 2;
        foreach (int counter in (ReadOnlySpan<int>)[5, 4, 3, 2, 1])
        {
            expected += (counter & 1) == 1 ? 2 + 2 : 1 + 2;
            expected += counter == 1 ? 2 : 1 + 2;
        }

        Assert.Equal(
            new CycleRange(expected + 2, expected + 2),
            Time("w movlw 5\n movwf 0xC\nl btfss 0xC,0\n goto e\n nop\n nop\ne decfsz 0xC,f\n goto l\n return")
        );
    }

    [Fact]
    public void A_routine_knows_its_extent_its_callers_and_whom_it_calls()
    {
        FlowGraph graph = Graph("call w\n call w\n goto $\nw nop\n call x\n return\nx return");
        RoutineFacts facts = graph.Routine(3)!;
        Assert.Equal(("w", 3, 5, 3, 1), (facts.Label, facts.Address, facts.Last, facts.Words, facts.Depth!.Value));
        Assert.Equal([0, 1], facts.CallSites.ToArray());
        Assert.Equal([6], facts.Calls.ToArray());
        Assert.Equal([3, 6], graph.RoutineAddresses.ToArray());
        Assert.Equal(2, graph.Routine(0)!.Depth);
        Assert.Null(graph.Routine(4));
    }

    [Fact]
    public void The_selected_bank_is_known_before_each_instruction()
    {
        FlowGraph graph = Graph("nop\n bsf STATUS,RP0\n nop\n btfsc PORTA,0\n bcf STATUS,RP0\n nop\n goto $");
        Assert.Equal([0, 0, 1, 1, 1, null, null], Enumerable.Range(0, 7).Select(a => graph.StateAt(a).Bank(2)));
        Assert.Equal(Reach.None, graph.ReachOf(7));
    }

    [Fact]
    public void Entries_of_a_table_are_reached()
    {
        FlowGraph graph = Graph("movf 0xC,w\n addwf PCL,f\n goto a\n goto b\na goto $\nb goto $\ndead nop\n goto $");
        Assert.Equal(
            [Reach.Certain, Reach.Certain, Reach.Certain, Reach.Certain],
            Enumerable.Range(2, 4).Select(graph.ReachOf)
        );
        Assert.Equal(Reach.None, graph.ReachOf(6));
    }

    [Fact]
    public void A_circle_of_calls_has_no_depth() =>
        Assert.Null(Graph("call w\n goto $\nw btfsc PORTA,0\n call x\n return\nx call w\n return").Routine(2)!.Depth);

    private static CycleRange? Time(string routine)
    {
        FlowGraph graph = Graph($"call w\n goto $\n{routine}");
        return graph.Routine(2)!.Cycles;
    }

    private static FlowGraph Graph(string code)
    {
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile(
                "test.asm",
                SourceText.From($" list p=16f84a\n #include <p16f84a.inc>\n org 0\n {code}\n end")
            )
        );
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        return FlowGraph.Of(program);
    }
}
