using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Tests.Scans;

public class GrayPictureTests
{
    private static GrayPicture Grainy(int width, int height, int paper, int grain)
    {
        var random = new Random(5);
        byte[] dots = new byte[width * height];
        for (int i = 0; i < dots.Length; i++)
            dots[i] = (byte)
                Math.Clamp(
                    paper + (random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5) * 2 * grain,
                    0,
                    255
                );
        return new GrayPicture(width, height, dots);
    }

    [Fact]
    public void The_grain_of_a_page_with_little_ink_is_no_ink()
    {
        GrayPicture picture = Grainy(300, 300, 235, 14);
        for (int i = 0; i < 40; i++)
            picture.Dots[100 * 300 + 50 + i] = 25;
        int threshold = picture.Threshold();
        Assert.Equal(40, picture.Dots.Count(d => d <= threshold));
    }

    [Fact]
    public void Turned_four_times_it_is_as_it_was()
    {
        GrayPicture picture = Grainy(20, 30, 128, 60);
        GrayPicture once = picture.Turned(1);
        Assert.Equal((30, 20), (once.Width, once.Height));
        // What was at the upper left is at the upper right.
        Assert.Equal(picture.Dots[0], once.Dots[29]);
        Assert.Equal(picture.Dots, picture.Turned(2).Turned(2).Dots);
        Assert.Equal(picture.Dots, once.Turned(3).Dots);
    }

    [Fact]
    public void Ruled_lines_are_taken_out_and_letters_are_not()
    {
        byte[] dots = new byte[400 * 400];
        Array.Fill(dots, (byte)255);
        for (int x = 20; x < 380; x++)
            dots[50 * 400 + x] = dots[51 * 400 + x] = 0;
        for (int y = 20; y < 380; y++)
            dots[y * 400 + 100] = 0;
        // An underscore of two cells, and a stroke of a letter, at 300 dots per inch.
        for (int x = 150; x < 200; x++)
            dots[200 * 400 + x] = 0;
        for (int y = 220; y < 260; y++)
            dots[y * 400 + 300] = 0;
        GrayPicture clean = RuledLines.Without(new GrayPicture(400, 400, dots), 128, 300);
        Assert.Equal(90, clean.Dots.Count(static d => d == 0));
    }

    [Fact]
    public void A_dark_area_is_no_rule()
    {
        byte[] dots = new byte[400 * 400];
        Array.Fill(dots, (byte)255);
        for (int y = 100; y < 300; y++)
            Array.Fill(dots, (byte)10, y * 400 + 50, 300);
        Assert.Equal(
            200 * 300,
            RuledLines.Without(new GrayPicture(400, 400, dots), 128, 300).Dots.Count(static d => d == 10)
        );
    }
}
