using AsmLsp.Core.Recovery.Printed;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;

namespace AsmLsp.Pdf;

/// <summary>One character on a page; lengths in points, x from the left and y from the top edge of the page as it is looked at.</summary>
/// <param name="Value">Its text: one character, more where a ligature stands for several, blank for a blank.</param>
/// <param name="X">Where it begins on its base line.</param>
/// <param name="End">Where the next one would begin.</param>
/// <param name="Y">Its base line.</param>
/// <param name="Size">The size of its font.</param>
/// <param name="Font">Its font.</param>
/// <param name="IsUnseen">Whether it is not drawn: the text that a machine has read from the picture below it.</param>
internal readonly record struct PdfLetter(string Value, double X, double End, double Y, double Size, PdfFont Font, bool IsUnseen)
{
    public bool IsBlank => string.IsNullOrWhiteSpace(Value);
}

/// <summary>The letters of one page, sorted into those of the text's flow and those beside it.</summary>
internal sealed record PdfLetters(List<PdfLetter> Flow, List<PdfLetter> Aside, double Width, double Height)
{
    /// <summary>A watermark is larger than anything else on the page, and pale. Sizes in points; brightness 0 to 1.</summary>
    private const double WatermarkSize = 36, WatermarkRatio = 3, WatermarkBrightness = 0.6;

    /// <summary>Letters that lean more than this many degrees are no text of the flow.</summary>
    private const double LeastLean = 3;

    public static PdfLetters Of(Page page, PdfFonts fonts, CancellationToken cancellation)
    {
        IReadOnlyList<Letter> letters = page.Letters;
        int turn = MainTurn(letters);
        double left = page.CropBox.Bounds.Left, bottom = page.CropBox.Bounds.Bottom;
        double width = page.Width, height = page.Height;
        bool sideways = turn is 90 or 270;
        var result = new PdfLetters([], [], sideways ? height : width, sideways ? width : height);
        double usual = UsualSize(letters);
        foreach (Letter letter in letters)
        {
            cancellation.ThrowIfCancellationRequested();
            (double x, double y) = Turned(letter.StartBaseLine, turn, left, bottom, width, height);
            (double endX, double endY) = Turned(letter.EndBaseLine, turn, left, bottom, width, height);
            if (!double.IsFinite(x) || !double.IsFinite(y) || !double.IsFinite(endX) || !double.IsFinite(endY)) continue;
            double size = letter.PointSize > 0 && double.IsFinite(letter.PointSize) ? letter.PointSize : Math.Max(1, Math.Abs(letter.FontSize));
            double lean = Math.Abs(Math.Atan2(y - endY, endX - x)) * 180 / Math.PI;
            bool unseen = letter.RenderingMode is TextRenderingMode.Neither or TextRenderingMode.NeitherClip;
            string value = fonts.Meaning(letter);
            var own = new PdfLetter(value, x, Math.Max(endX, x), y, size, fonts.Of(letter), unseen);
            bool beside = (endX != x || endY != y) && lean > LeastLean
                || x < -size || x > result.Width || y < -1 || y > result.Height + 1
                || (size >= WatermarkSize && size >= WatermarkRatio * usual && Brightness(letter) >= WatermarkBrightness);
            (beside ? result.Aside : result.Flow).Add(own);
        }

        DropOverprints(result.Flow, cancellation);
        return result;
    }

    // A page whose text is turned as a whole is turned back: by 0, 90, 180 or 270 degrees.
    private static int MainTurn(IReadOnlyList<Letter> letters)
    {
        Span<int> counts = stackalloc int[4];
        foreach (Letter letter in letters)
        {
            int index = letter.TextOrientation switch
            {
                TextOrientation.Rotate90 => 1,
                TextOrientation.Rotate180 => 2,
                TextOrientation.Rotate270 => 3,
                _ => 0,
            };
            counts[index]++;
        }

        for (int i = 1; i < 4; i++)
            if (counts[i] * 10 > letters.Count * 7) return i * 90;
        return 0;
    }

    private static (double X, double Y) Turned(PdfPoint point, int turn, double left, double bottom, double width, double height)
    {
        double x = point.X - left, y = point.Y - bottom;
        // The library's 90 degrees run clockwise: such lines are read from the top of the page down.
        return turn switch
        {
            90 => (height - y, width - x),
            180 => (width - x, y),
            270 => (y, x),
            _ => (x, height - y),
        };
    }

    private static double UsualSize(IReadOnlyList<Letter> letters)
    {
        if (letters.Count == 0) return 10;
        double[] sizes = new double[letters.Count];
        for (int i = 0; i < sizes.Length; i++) sizes[i] = letters[i].PointSize;
        Array.Sort(sizes);
        return Math.Max(1, sizes[sizes.Length / 2]);
    }

    private static double Brightness(Letter letter)
    {
        try
        {
            (double r, double g, double b) = letter.FillColor.ToRGBValues();
            return 0.299 * r + 0.587 * g + 0.114 * b;
        }
        catch (Exception e) when (e is InvalidOperationException or NotSupportedException)
        {
            // A pattern has no one colour; it is no reason to set text aside.
            return 0;
        }
    }

    // Some programs print bold by printing twice, a hair apart: the second one says nothing new.
    private static void DropOverprints(List<PdfLetter> letters, CancellationToken cancellation)
    {
        var seen = new Dictionary<(int, int), List<int>>();
        int kept = 0;
        for (int i = 0; i < letters.Count; i++)
        {
            if ((i & 1023) == 0) cancellation.ThrowIfCancellationRequested();
            PdfLetter letter = letters[i];
            if (IsRepeated(letters, seen, letter)) continue;
            letters[kept] = letter;
            (int, int) cell = Cell(letter);
            if (!seen.TryGetValue(cell, out List<int>? there)) seen[cell] = there = [];
            // A cell full of letters that differ is a picture made of text; one look is enough.
            if (there.Count < 64) there.Add(kept);
            kept++;
        }

        letters.RemoveRange(kept, letters.Count - kept);
    }

    private static (int, int) Cell(in PdfLetter letter) => ((int)Math.Floor(letter.X / 4), (int)Math.Floor(letter.Y / 4));

    private static bool IsRepeated(List<PdfLetter> letters, Dictionary<(int, int), List<int>> seen, in PdfLetter letter)
    {
        (int column, int row) = Cell(letter);
        for (int dx = -1; dx <= 1; dx++)
        {
            for (int dy = -1; dy <= 1; dy++)
            {
                if (!seen.TryGetValue((column + dx, row + dy), out List<int>? there)) continue;
                foreach (int index in there)
                {
                    PdfLetter other = letters[index];
                    double reach = Math.Min(4, 0.35 * Math.Max(letter.End - letter.X, 0.2 * letter.Size));
                    if (other.Value == letter.Value && Math.Abs(other.X - letter.X) <= reach && Math.Abs(other.Y - letter.Y) <= Math.Min(4, 0.2 * letter.Size)
                        && Math.Abs(other.Size - letter.Size) < 0.1 * letter.Size) return true;
                }
            }
        }

        return false;
    }
}
