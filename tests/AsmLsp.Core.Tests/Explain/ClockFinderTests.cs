using AsmLsp.Core.Assembly;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Explain;

public class ClockFinderTests
{
    [Theory]
    [InlineData("; clock 4 MHz", 4e6)]
    [InlineData("; Clock: 20MHz", 20e6)]
    [InlineData("; 4MHz crystal", 4e6)]
    [InlineData(";Xtal 4 MHz", 4e6)]
    [InlineData("; XTAL = 3.579545 MHz", 3.579545e6)]
    [InlineData("; Fosc = 4MHz", 4e6)]
    [InlineData("; quartz 3,2768 MHz", 3.2768e6)]
    [InlineData("; 32.768 kHz crystal", 32768)]
    [InlineData("; Oscillator: 10-MHz", 10e6)]
    [InlineData("; 4000000 Hz resonator", 4e6)]
    public void A_comment_gives_the_clock(string comment, double hertz) =>
        Assert.Equal(hertz, Find(comment + "\n nop\n end")!.Hertz, 3);

    [Theory]
    [InlineData("; 38 kHz carrier clock")]
    [InlineData("; instruction clock 1 MHz")]
    [InlineData("; I2C clock 100 kHz")]
    [InlineData("; 1 kHz beep")]
    [InlineData("; 4 MHz or 20 MHz crystal")]
    [InlineData("; Fosc = 4MHz/4")]
    [InlineData("; crystal fitted, see part 4")]
    public void A_comment_about_something_else_does_not(string comment) => Assert.Null(Find(comment + "\n nop\n end"));

    [Fact]
    public void Comments_that_disagree_give_no_clock() =>
        Assert.Null(Find("; 4 MHz crystal\n; 20 MHz crystal\n nop\n end"));

    [Fact]
    public void Comments_that_agree_give_the_clock() =>
        Assert.Equal(4e6, Find("; 4 MHz crystal\n; xtal 4.0MHz\n nop\n end")!.Hertz);

    [Fact]
    public void The_plain_form_beats_the_others() =>
        Assert.Equal(20e6, Find("; 4 MHz crystal\n; clock 20 MHz\n nop\n end")!.Hertz);

    [Fact]
    public void The_surroundings_beat_the_comments() =>
        Assert.Equal(8e6, ClockFinder.Find(Program("; clock 4 MHz\n nop\n end"), 8e6)!.Hertz);

    // Data sheet DS41190G: the internal oscillator of the PIC12F629 and 675 runs at 4 MHz.
    [Fact]
    public void A_fixed_internal_rate_counts_where_the_configuration_selects_it()
    {
        Clock? clock = Find(" list p=12f675\n __config _INTRC_OSC_NOCLKOUT & _WDT_OFF\n nop\n end");
        Assert.Equal((4e6, ClockSource.Chip), (clock!.Hertz, clock.Source));
        Assert.Null(Find(" list p=12f675\n __config _XT_OSC & _WDT_OFF\n nop\n end"));
        Assert.Null(Find(" list p=12f675\n nop\n end"));
    }

    // An instruction cycle takes four clock periods: data sheet DS35007B, section 2.
    [Theory]
    [InlineData(4e6, 1, "1 µs")]
    [InlineData(20e6, 1, "200 ns")]
    [InlineData(4e6, 1500, "1.5 ms")]
    [InlineData(4e6, 1000, "1 ms")]
    [InlineData(32768, 1, "122.1 µs")]
    [InlineData(4e6, 1_000_000, "1 s")]
    public void Times_come_in_the_unit_that_suits_them(double hertz, long cycles, string expected) =>
        Assert.Equal(expected, new Clock(hertz, ClockSource.Settings, false).Time(cycles));

    private static Clock? Find(string source) => ClockFinder.Find(Program(source));

    private static ProgramAnalysis Program(string source) =>
        Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)));
}
