using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Pictures;

/// <summary>The picture of printed lines, cut out of their page.</summary>
/// <param name="Area">The part of the page that it shows.</param>
/// <param name="Png">The PNG file.</param>
/// <param name="Width">Its width in dots.</param>
/// <param name="Height">Its height in dots.</param>
/// <param name="DotsPerInch">How fine it is.</param>
public sealed record LinePicture(PrintedArea Area, byte[] Png, int Width, int Height, double DotsPerInch);

/// <summary>The picture of a page.</summary>
/// <param name="Page">The page, from 1.</param>
/// <param name="Png">The PNG file, without frames.</param>
/// <param name="Framed">The PNG file with its areas framed.</param>
/// <param name="Width">Its width in dots.</param>
/// <param name="Height">Its height in dots.</param>
/// <param name="Frames">The areas that are to be looked at, each as parts of the width and height of the page.</param>
public sealed record PagePicture(
    int Page,
    byte[] Png,
    byte[] Framed,
    int Width,
    int Height,
    ImmutableArray<LineFrame> Frames
);

/// <summary>A frame around lines on the picture of a page, in parts of its width and height: 0 to 1.</summary>
/// <param name="Area">What it is around.</param>
/// <param name="Left">Its left edge.</param>
/// <param name="Top">Its upper edge.</param>
/// <param name="Right">Its right edge.</param>
/// <param name="Bottom">Its lower edge.</param>
public sealed record LineFrame(PrintedArea Area, double Left, double Top, double Right, double Bottom);

/// <summary>A page as it was drawn, from which lines are cut.</summary>
internal sealed class DrawnPage(PrintedPage page, GrayPicture picture)
{
    // Room around the ink, in parts of an inch.
    private const double Room = 0.05;

    private readonly double dots = page.Width > 0 ? picture.Width / page.Width : 0;
    private readonly int threshold = picture.Threshold();

    /// <summary>Cuts out an area, without the empty room to its right.</summary>
    public (LinePicture Picture, LineFrame Frame)? Cut(PrintedArea area)
    {
        if (dots <= 0)
            return null;
        int left = At(area.Left),
            top = At(area.Top),
            bottom = At(area.Bottom),
            right = double.IsFinite(area.Right) ? At(area.Right) : picture.Width;
        if (left >= picture.Width || top >= picture.Height || bottom <= 0 || right <= left)
            return null;
        int room = (int)Math.Ceiling(Room * 72 * dots);
        right = Math.Min(right, InkEnd(left, Math.Max(0, top), Math.Min(bottom, picture.Height), right) + room);
        GrayPicture cut = PictureWork.Cut(picture, left, top, right, bottom);
        return (
            new LinePicture(area, PngWriter.Write(cut), cut.Width, cut.Height, dots * 72),
            new LineFrame(
                area,
                (double)left / picture.Width,
                (double)Math.Max(0, top) / picture.Height,
                (double)Math.Min(right, picture.Width) / picture.Width,
                (double)Math.Min(bottom, picture.Height) / picture.Height
            )
        );
    }

    /// <summary>The page in half the size, alone and with frames.</summary>
    public PagePicture Whole(ImmutableArray<LineFrame> frames)
    {
        GrayPicture half = PictureWork.Half(picture);
        byte[] plain = PngWriter.Write(half);
        foreach (LineFrame frame in frames)
            PictureWork.Frame(
                half,
                (int)(frame.Left * half.Width) - 1,
                (int)(frame.Top * half.Height) - 1,
                (int)Math.Ceiling(frame.Right * half.Width) + 1,
                (int)Math.Ceiling(frame.Bottom * half.Height) + 1,
                2
            );
        return new PagePicture(
            page.Number,
            plain,
            frames.IsEmpty ? plain : PngWriter.Write(half),
            half.Width,
            half.Height,
            frames
        );
    }

    private int At(double points) => (int)Math.Round(points * dots);

    // The column after the last ink of the area; its right edge where there is none.
    private int InkEnd(int left, int top, int bottom, int right)
    {
        for (int x = Math.Min(right, picture.Width) - 1; x >= left; x--)
        for (int y = top; y < bottom; y++)
            if (picture.Dots[y * picture.Width + x] <= threshold)
                return x + 1;
        return right;
    }
}
