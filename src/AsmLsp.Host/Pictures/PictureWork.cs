using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Pictures;

/// <summary>Cuts, shrinks, straightens and frames pictures.</summary>
internal static class PictureWork
{
    private const byte Paper = 255;

    /// <summary>A part of a picture; what lies outside of it is left out.</summary>
    public static GrayPicture Cut(GrayPicture from, int left, int top, int right, int bottom)
    {
        left = Math.Clamp(left, 0, from.Width - 1);
        top = Math.Clamp(top, 0, from.Height - 1);
        int width = Math.Clamp(right, left + 1, from.Width) - left,
            height = Math.Clamp(bottom, top + 1, from.Height) - top;
        byte[] dots = new byte[width * height];
        for (int y = 0; y < height; y++)
            from.Dots.AsSpan((top + y) * from.Width + left, width).CopyTo(dots.AsSpan(y * width));
        return new GrayPicture(width, height, dots);
    }

    /// <summary>The picture at half its size, each dot the mean of four.</summary>
    public static GrayPicture Half(GrayPicture from)
    {
        int width = Math.Max(1, from.Width / 2),
            height = Math.Max(1, from.Height / 2);
        if (from.Width < 2 || from.Height < 2)
            return from;
        byte[] dots = new byte[width * height];
        for (int y = 0; y < height; y++)
        {
            int above = 2 * y * from.Width,
                below = above + from.Width;
            for (int x = 0; x < width; x++)
                dots[y * width + x] = (byte)(
                    (
                        from.Dots[above + 2 * x]
                        + from.Dots[above + 2 * x + 1]
                        + from.Dots[below + 2 * x]
                        + from.Dots[below + 2 * x + 1]
                        + 2
                    ) / 4
                );
        }

        return new GrayPicture(width, height, dots);
    }

    /// <summary>A picture whose lines fall to the right, put straight; what comes from beyond its edges is paper.</summary>
    /// <param name="from">The picture.</param>
    /// <param name="slope">How far its lines fall for each dot to the right.</param>
    public static GrayPicture Straight(GrayPicture from, double slope)
    {
        if (Math.Abs(slope) * Math.Max(from.Width, from.Height) < 1)
            return from;
        byte[] dots = new byte[from.Dots.Length];
        for (int y = 0; y < from.Height; y++)
        for (int x = 0; x < from.Width; x++)
            dots[y * from.Width + x] = Between(from, x - slope * y, y + slope * x);
        return new GrayPicture(from.Width, from.Height, dots);
    }

    /// <summary>Draws a frame around a part of a picture.</summary>
    public static void Frame(GrayPicture picture, int left, int top, int right, int bottom, int width)
    {
        for (int i = 0; i < width; i++)
        {
            Row(picture, top - i, left - i, right + i);
            Row(picture, bottom + i, left - i, right + i);
            Column(picture, left - i, top - i, bottom + i);
            Column(picture, right + i, top - i, bottom + i);
        }
    }

    private static void Row(GrayPicture picture, int y, int left, int right)
    {
        if (y < 0 || y >= picture.Height)
            return;
        for (int x = Math.Max(0, left); x <= Math.Min(right, picture.Width - 1); x++)
            picture.Dots[y * picture.Width + x] = 0;
    }

    private static void Column(GrayPicture picture, int x, int top, int bottom)
    {
        if (x < 0 || x >= picture.Width)
            return;
        for (int y = Math.Max(0, top); y <= Math.Min(bottom, picture.Height - 1); y++)
            picture.Dots[y * picture.Width + x] = 0;
    }

    // The gray between the four dots around a place.
    private static byte Between(GrayPicture from, double x, double y)
    {
        int left = (int)Math.Floor(x),
            top = (int)Math.Floor(y);
        if (left < 0 || top < 0 || left + 1 >= from.Width || top + 1 >= from.Height)
            return Paper;
        double across = x - left,
            down = y - top;
        int at = top * from.Width + left;
        double above = from.Dots[at] * (1 - across) + from.Dots[at + 1] * across,
            below = from.Dots[at + from.Width] * (1 - across) + from.Dots[at + from.Width + 1] * across;
        return (byte)(above * (1 - down) + below * down + 0.5);
    }
}
