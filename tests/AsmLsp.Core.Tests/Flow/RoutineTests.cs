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
    // The same loop called twice in a row is no loop without an end.
    [InlineData(
        "w call x\n call x\n return\nx movlw 3\n movwf 0xC\nl decfsz 0xC,f\n goto l\n return",
        2 * (2 + 2 + 2 * 3 + 2 + 2) + 2
    )]
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
    [InlineData("w goto w")]
    [InlineData("w movwf PCL\n return")]
    [InlineData("w sleep\n return")]
    public void What_cannot_be_followed_is_not_counted(string routine) => Assert.Null(Time(routine));

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

    [Theory]
    [InlineData("w btfss PORTA,0\n goto w\n return", 2 + 2)]
    [InlineData("w movlw 5\n movwf PORTB\nl decfsz PORTB,f\n goto l\n return", 1 + 1 + 2 + 2)]
    [InlineData("w call x\n return\nx btfsc PORTA,0\n goto x\n return", 2 + 2 + 2 + 2)]
    public void A_loop_that_waits_for_the_outside_has_no_upper_limit(string routine, long least) =>
        Assert.Equal(new CycleRange(least, null), Time(routine));

    [Theory]
    // A counter that the caller gives counts 1 to 256 laps.
    [InlineData("w decfsz 0xC,f\n goto w\n return", 2 + 2, 255 * 3 + 2 + 2)]
    [InlineData("w movwf 0xC\nl decfsz 0xC,f\n goto l\n return", 1 + 2 + 2, 1 + 255 * 3 + 2 + 2)]
    [InlineData("w movwf 0xC\nl call x\n decfsz 0xC,f\n goto l\n return\nx return", 1 + 4 + 2 + 2, 1 + 255 * 7 + 6 + 2)]
    public void A_counter_that_is_not_known_gives_the_least_and_the_most(string routine, long least, long most) =>
        Assert.Equal(new CycleRange(least, most), Time(routine));

    [Theory]
    // A choice in each lap of a counter, and a count that comes from a table.
    [InlineData(
        "w movlw .8\n movwf 0xC\nl btfsc PORTA,0\n goto m\n nop\n nop\nm decfsz 0xC,f\n goto l\n return",
        2 + 7 * (3 + 3) + 3 + 2 + 2,
        2 + 7 * (4 + 3) + 4 + 2 + 2
    )]
    [InlineData(
        "w movlw 1\n call t\n movwf 0xC\nl decfsz 0xC,f\n goto l\n return\nt addwf PCL,f\n retlw .5\n retlw .10\n retlw .20",
        1 + 6 + 1 + 9 * 3 + 2 + 2,
        1 + 6 + 1 + 9 * 3 + 2 + 2
    )]
    [InlineData(
        "w movf PORTB,w\n andlw 1\n call t\n movwf 0xC\nl decfsz 0xC,f\n goto l\n return\nt addwf PCL,f\n retlw .5\n retlw .10",
        2 + 6 + 1 + 4 * 3 + 2 + 2,
        2 + 6 + 1 + 9 * 3 + 2 + 2
    )]
    // Memory that is cleared through FSR: 16 bytes.
    [InlineData(
        "w movlw 0x10\n movwf FSR\nl clrf INDF\n incf FSR,f\n btfss FSR,5\n goto l\n return",
        2 + 15 * 5 + 4 + 2,
        2 + 15 * 5 + 4 + 2
    )]
    // Up from a number, by the zero flag.
    [InlineData("w movlw .250\n movwf 0xC\nl incfsz 0xC,f\n goto l\n return", 2 + 5 * 3 + 2 + 2, 2 + 5 * 3 + 2 + 2)]
    public void Choices_and_tables_in_loops_are_counted(string routine, long least, long most) =>
        Assert.Equal(new CycleRange(least, most), Time(routine));

    [Fact]
    public void A_call_is_counted_with_what_W_holds()
    {
        FlowGraph graph = Graph(
            "movlw .10\n call w\n movlw .20\n call w\n goto $\nw movwf 0xC\nl decfsz 0xC,f\n goto l\n return"
        );
        Assert.Equal(new CycleRange(2 + 1 + 9 * 3 + 2 + 2, 2 + 1 + 9 * 3 + 2 + 2), graph.Times.Call(1));
        Assert.Equal(new CycleRange(2 + 1 + 19 * 3 + 2 + 2, 2 + 1 + 19 * 3 + 2 + 2), graph.Times.Call(3));
        Assert.Null(graph.Times.Call(0));
    }

    [Fact]
    public void A_loop_has_the_time_of_a_lap_and_of_all()
    {
        FlowGraph graph = Graph(
            "movlw .10\n movwf 0xC\nl nop\n decfsz 0xC,f\n goto l\n nop\nm btfsc PORTA,0\n nop\n goto m"
        );
        Assert.Equal(new LoopTime(2, 4, new(4, 4), new(9 * 4 + 3, 9 * 4 + 3)), graph.Times.Loop(4));
        Assert.Equal(new LoopTime(6, 8, new(4, 4), null), graph.Times.Loop(8));
        Assert.Null(graph.Times.Loop(3));
    }

    [Fact]
    public void A_selection_has_the_time_until_both_paths_join()
    {
        FlowGraph graph = Graph("btfsc PORTA,0\n goto a\n nop\n nop\n goto e\na nop\ne nop\n goto $");
        Assert.Equal(new SelectionTime(6, new(1 + 2 + 1, 2 + 1 + 1 + 2)), graph.Times.Selection(0));
        Assert.Null(graph.Times.Selection(2));
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
