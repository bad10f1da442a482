using AsmLsp.Core.Flow;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Durations as people write them.</summary>
public class DelayRequestTests
{
    private static readonly Clock FourMegahertz = new(4e6, ClockSource.Settings, false);

    [Theory]
    [InlineData("1ms", 1000), InlineData("1 ms", 1000), InlineData("2.5s", 2_500_000), InlineData("20 us", 20)]
    [InlineData("20µs", 20), InlineData("3 min", 180_000_000), InlineData("100 cycles", 100), InlineData("1 cycle", 1)]
    public void A_duration_is_read(string text, long cycles) =>
        Assert.Equal(cycles, DelayRequest.Read(text)!.Cycles(FourMegahertz));

    [Theory]
    [
        InlineData("ms"),
        InlineData("1"),
        InlineData("-1 ms"),
        InlineData("1 h"),
        InlineData("1.5 cycles"),
        InlineData("1 ms more")
    ]
    [InlineData("1..2 ms"), InlineData("")]
    public void Anything_else_is_none(string text) => Assert.Null(DelayRequest.Read(text));

    [Theory]
    [InlineData("; wait 20 ms", 20_000), InlineData(";delay of 5us", 5), InlineData("; Warten: 100 ms!", 100_000)]
    [InlineData("; 1 s pause", 1_000_000)]
    public void A_comment_asks_for_a_delay(string comment, long cycles) =>
        Assert.Equal(cycles, DelayRequest.OfComment(comment)!.Cycles(FourMegahertz));

    [Theory]
    [InlineData("; takes 20 ms"), InlineData("; wait for the key"), InlineData("; wait until T20ms")]
    public void Other_comments_do_not(string comment) => Assert.Null(DelayRequest.OfComment(comment));

    [Fact]
    public void What_is_no_whole_number_of_cycles_says_how_far_it_is_off()
    {
        var clock = new Clock(3_579_545, ClockSource.Settings, false);
        Assert.Equal(
            "1 ms at 3.579545 MHz = 895 cycles, 0.0127 % too long: no whole number of cycles is nearer",
            DelayRequest.Read("1ms")!.Describe(clock)
        );
        Assert.Equal("1 ms at 4 MHz = 1,000 cycles", DelayRequest.Read("1ms")!.Describe(FourMegahertz));
        Assert.Null(DelayRequest.Read("1ms")!.Cycles(null));
    }
}
