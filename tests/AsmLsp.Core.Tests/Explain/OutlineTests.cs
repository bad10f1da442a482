using AsmLsp.Core.Assembly;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Explain.Outlines;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Tests.Assembly;

namespace AsmLsp.Core.Tests.Explain;

/// <summary>The outline of a program.</summary>
public class OutlineTests
{
    private const string Lamp = """
        ; Two lamps that blink in turn
        ; clock 4 MHz
         list p=16f84a
         include <p16f84a.inc>
         __config _XT_OSC & _WDT_OFF & _PWRTE_ON & _CP_OFF
        count equ 0x0C ; laps of the pause
        also equ 0x0C
        spare equ 0x0D
         org 0
         clrf PORTB
         bsf STATUS,RP0
         clrf TRISB
         bcf STATUS,RP0
        ;-------------------------
        ; show one lamp, then the other
        ;-------------------------
        loop movlw 1
         call pattern
         movwf PORTB
         call pause
         goto loop
        ; waits a moment
        pause movlw .10
         movwf count
        lap decfsz also,f
         goto lap
         return
        pattern andlw 1 ; which lamps are on
         addwf PCL,f
         retlw 1
         retlw 2
         org 0x2100
         de 1,2,"ok"
         end
        """;

    [Fact]
    public void Routines_have_their_purpose_time_and_callers()
    {
        ProgramOutline outline = Of(Lamp);
        Assert.Equal("Two lamps that blink in turn clock 4 MHz", outline.Title);
        OutlineRoutine pause = outline.Routines.Single(r => r.Name == "pause");
        Assert.Equal("waits a moment", pause.Purpose);
        Assert.Equal(new CycleRange(2 + 9 * 3 + 2 + 2, 2 + 9 * 3 + 2 + 2), pause.Cycles);
        Assert.Equal(["the main loop"], pause.Callers.ToArray());
        Assert.Equal("which lamps are on", outline.Routines.Single(r => r.Name == "pattern").Purpose);
        Assert.Equal(1, outline.Depth);
    }

    [Fact]
    public void Start_up_and_main_loop_are_distinguished()
    {
        ProgramOutline outline = Of(Lamp);
        Assert.Equal((4, new CycleRange(4, 4)), (outline.Start!.Words, outline.Start.Cycles!.Value));
        Assert.Equal("show one lamp, then the other", outline.Loop!.Purpose);
        Assert.Equal(["pattern", "pause"], outline.Loop.Calls.ToArray());
        // MOVLW 1, CALL 2, ANDLW 1, ADDWF PCL 2, RETLW 2, MOVWF 1, CALL 2, the pause 33, GOTO 2.
        Assert.Equal(
            new CycleRange(1 + 2 + 1 + 2 + 2 + 1 + 2 + 33 + 2, 1 + 2 + 1 + 2 + 2 + 1 + 2 + 33 + 2),
            outline.Loop.Cycles
        );
        Assert.Null(outline.Interrupt);
    }

    [Fact]
    public void Variables_say_who_writes_and_reads_them()
    {
        OutlineVariable count = Assert.Single(Of(Lamp).Variables);
        Assert.Equal(("count", 0x0C, "laps of the pause"), (count.Name, count.Address, count.Purpose));
        Assert.Equal(["also"], count.OtherNames.ToArray());
        Assert.Equal(["pause"], count.Writers.ToArray());
        Assert.Equal(["pause"], count.Readers.ToArray());
    }

    [Fact]
    public void Tables_and_EEPROM_are_shown()
    {
        ProgramOutline outline = Of(Lamp);
        OutlineTable table = Assert.Single(outline.Tables);
        Assert.Equal(("pattern", 2), (table.Name, table.Entries));
        Assert.Equal([1, 2], table.Values.ToArray());
        OutlineBytes bytes = Assert.Single(outline.Eeprom);
        Assert.Equal((0, 4), (bytes.Address, bytes.Bytes.Length));
    }

    [Fact]
    public void An_interrupt_says_what_it_does_not_keep()
    {
        ProgramOutline outline = Of(
            " list p=16f84a\n include <p16f84a.inc>\n org 0\n goto main\n org 4\n movlw 1\n bsf STATUS,RP0\n bcf STATUS,RP0\n bcf INTCON,T0IF\n retfie\nmain bsf INTCON,GIE\nl nop\n goto l\n end\n"
        );
        Assert.Equal(["W", "the bank (STATUS)"], outline.Lost.ToArray());
        Assert.Equal(new CycleRange(6, 6), outline.Interrupt!.Cycles);
    }

    [Fact]
    public void What_could_not_be_known_is_said()
    {
        ProgramOutline outline = Of(
            " list p=16f84a\n include <p16f84a.inc>\n org 0\n movf 0x0C,w\n movwf PCL\nx goto x\n end\n"
        );
        Assert.Equal(
            ["Where the computed jump in line 5 goes: every label may be reached from there, with any bank selected."],
            outline.Unknowns.ToArray()
        );
    }

    [Theory]
    [InlineData(" list p=16f84a\n clrf nowhere\n end\n")]
    [InlineData("")]
    [InlineData(" dt 1,2,3\n")]
    [InlineData(" list p=16f84a\n org 0\nx call x\n goto x\n end\n")]
    public void Odd_programs_have_an_outline_too(string source)
    {
        ProgramAnalysis program = Check.Assemble(source);
        ProgramOutline outline = ProgramOutline.Of(program);
        Assert.Equal(program.Image.ProgramWords, outline.UsedWords);
    }

    [Theory]
    [InlineData(2), InlineData(5)]
    public void A_whole_memory_of_tangled_jumps_has_an_outline(int seed)
    {
        ProgramOutline outline = ProgramOutline.Of(Check.Assemble(Tests.Flow.FlowGraphTests.Tangle(seed)));
        Assert.Equal(0x2000, outline.UsedWords);
        Assert.NotEmpty(outline.Routines);
        Assert.NotNull(outline.Pins);
    }

    [Fact]
    public void Programs_of_authors_have_an_outline()
    {
        foreach (ProgramAnalysis program in FixturePrograms.Assembled())
        {
            ProgramOutline outline = ProgramOutline.Of(program);
            Assert.True(
                program.HasErrors || outline.Start is not null || outline.Loop is not null,
                program.Root.ShortName
            );
            Assert.Equal(
                program.HasErrors ? [] : FlowGraph.Of(program).RoutineAddresses.ToArray(),
                outline.Routines.Select(static r => r.Address).ToArray()
            );
        }
    }

    private static ProgramOutline Of(string source)
    {
        ProgramAnalysis program = Check.Assemble(source);
        Assert.False(program.HasErrors, string.Join("\n", program.Problems.Select(p => p.Message)));
        return ProgramOutline.Of(program, ExplainOptions.Default);
    }
}
