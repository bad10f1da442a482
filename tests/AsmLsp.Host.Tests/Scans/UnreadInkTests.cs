using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Tests.Scans;

public class UnreadInkTests
{
    private const int Width = 200,
        Height = 100;

    private static readonly ImmutableArray<OcrRow> One = [new([new("n", true, 20, 40, 36, 60, 0.99)], 60, 0)];

    private static GrayPicture Paper(params (int Left, int Top, int Right, int Bottom)[] ink)
    {
        byte[] dots = new byte[Width * Height];
        Array.Fill(dots, (byte)240);
        foreach ((int left, int top, int right, int bottom) in ink)
            for (int y = top; y <= bottom; y++)
                Array.Fill(dots, (byte)20, y * Width + left, right - left + 1);
        return new GrayPicture(Width, Height, dots);
    }

    private static ImmutableArray<InkSpot>? Find(GrayPicture picture) =>
        UnreadInk.Find(picture, picture.Threshold(), One, 1);

    [Fact]
    public void Ink_of_a_character_that_was_read_is_none() => Assert.Empty(Find(Paper((20, 40, 36, 60)))!.Value);

    [Fact]
    public void A_comma_that_was_passed_over_is_found() =>
        Assert.Equal(
            new InkSpot(50, 56, 55, 65),
            Assert.Single(Find(Paper((20, 40, 36, 60), (50, 56, 54, 64)))!.Value)
        );

    [Theory]
    [InlineData(50, 56, 51, 57)] // a speck of two dots
    [InlineData(5, 80, 195, 82)] // a ruled line
    [InlineData(0, 10, 8, 30)] // the edge of the sheet
    public void Dirt_and_frames_are_none(int left, int top, int right, int bottom) =>
        Assert.Empty(Find(Paper((20, 40, 36, 60), (left, top, right, bottom)))!.Value);

    [Fact]
    public void A_page_full_of_spots_is_reported_as_dirty()
    {
        var spots = new List<(int, int, int, int)> { (20, 40, 36, 60) };
        for (int x = 5; x < 190; x += 8)
        for (int y = 5; y < 95; y += 10)
            if (x is < 10 or > 44)
                spots.Add((x, y, x + 4, y + 4));
        Assert.Null(Find(Paper([.. spots])));
    }

    [Fact]
    public void Contrast_makes_paper_white_and_ink_black()
    {
        GrayPicture picture = Paper((20, 40, 36, 60));
        GrayPicture clear = picture.WithContrast(picture.Threshold());
        Assert.Equal(255, clear.Dots[0]);
        Assert.Equal(0, clear.Dots[50 * Width + 25]);
    }

    [Theory]
    [InlineData("P5\n2 2\n255\n1234", true)]
    [InlineData("P5 # made by hand\n2 2 255\n1234", true)]
    [InlineData("P5\n2 2\n255\n123", false)]
    [InlineData("P5\n20000 20000\n255\n1234", false)]
    [InlineData("P5\n99999999999 2\n255\n1234", false)]
    [InlineData("P6\n2 2\n255\n1234", false)]
    [InlineData("", false)]
    public void Gray_maps_are_read_within_their_limit(string file, bool isRead)
    {
        using var folder = new TempFolder();
        string path = Path.Combine(folder.Path, "page.pgm");
        File.WriteAllText(path, file);
        Assert.Equal(isRead, GrayPicture.Read(path, 1000) is not null);
    }
}
