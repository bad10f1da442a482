using System.Text;
using AsmLsp.Core.Recovery.Printed;

namespace AsmLsp.Pdf;

/// <summary>
/// Makes text of rows. In monospaced text a character's column follows from its place; in other text the room between
/// words becomes blanks in proportion, so that tables stay tables.
/// </summary>
internal static class PdfLines
{
    /// <summary>Room for this many characters is the most that one line is given: a stray letter far off must not make a huge line.</summary>
    private const int MostColumns = 400;

    /// <summary>The left edges of monospaced text in the document, by the width of a column, so that a page on which every line is indented keeps that.</summary>
    internal sealed class Edges
    {
        private readonly Dictionary<int, List<double>> byPitch = [];

        public void Note(double pitch, double x)
        {
            int key = Key(pitch);
            if (!byPitch.TryGetValue(key, out List<double>? edges)) byPitch[key] = edges = [];
            foreach (double edge in edges) if (Math.Abs(edge - x) < 0.05) return;
            if (edges.Count < 256) edges.Add(x);
        }

        /// <summary>The edge for a block that starts at <paramref name="x"/>: one of another page, up to 16 whole columns further left.</summary>
        public double For(double pitch, double x)
        {
            double best = x;
            if (!byPitch.TryGetValue(Key(pitch), out List<double>? edges)) return x;
            foreach (double edge in edges)
            {
                double columns = (x - edge) / pitch;
                if (columns is > 0.5 and < 16.3 && Math.Abs(columns - Math.Round(columns)) < 0.12) best = Math.Min(best, edge);
            }

            return best;
        }

        private static int Key(double pitch) => (int)Math.Round(pitch * 20);
    }

    /// <summary>The width of a column where a block is monospaced: the step from letter to letter, refined over whole rows; else 0.</summary>
    public static double Pitch(List<PdfRow> block)
    {
        var steps = new List<double>();
        foreach (PdfRow row in block)
        {
            if (!IsMonospaced(row)) continue;
            PdfLetter? before = null;
            foreach (PdfLetter letter in row.Letters)
            {
                if (before is { } b && letter.X - b.X is > 0 and < 40 && letter.X - b.X < 1.6 * letter.Size) steps.Add(letter.X - b.X);
                before = letter;
            }
        }

        if (steps.Count == 0) return SingleWidth(block);
        steps.Sort();
        double pitch = steps[steps.Count / 2];
        double room = 0, columns = 0;
        foreach (PdfRow row in block)
        {
            if (!IsMonospaced(row)) continue;
            PdfLetter? before = null;
            foreach (PdfLetter letter in row.Letters)
            {
                if (before is { } b)
                {
                    double step = letter.X - b.X, whole = Math.Round(step / pitch);
                    if (whole is >= 1 and <= 60 && Math.Abs(step - whole * pitch) < 0.15 * pitch) (room, columns) = (room + step, columns + whole);
                }

                before = letter;
            }
        }

        return columns > 0 ? room / columns : pitch;
    }

    private static double SingleWidth(List<PdfRow> block)
    {
        foreach (PdfRow row in block)
            if (IsMonospaced(row))
                foreach (PdfLetter letter in row.Letters)
                    if (!letter.IsBlank && letter.End > letter.X) return letter.End - letter.X;
        return 0;
    }

    /// <summary>The left edge of the monospaced rows of a block.</summary>
    public static double Left(List<PdfRow> block)
    {
        double left = double.MaxValue;
        foreach (PdfRow row in block) if (IsMonospaced(row)) left = Math.Min(left, row.X);
        return left;
    }

    /// <summary>Whether most letters of a row are monospaced.</summary>
    public static bool IsMonospaced(PdfRow row)
    {
        int mono = 0;
        foreach (PdfLetter letter in row.Letters) if (!letter.IsBlank && letter.Font.IsMonospaced) mono++;
        return mono * 2 > row.Visible;
    }

    /// <summary>Adds the lines of a block.</summary>
    public static void Add(List<PdfRow> block, Edges edges, int page, ICollection<PrintedLine> lines)
    {
        double pitch = Pitch(block);
        double monoLeft = pitch > 0 ? edges.For(pitch, Left(block)) : 0;
        double left = block.Min(static r => r.X);
        double average = AverageWidth(block);
        foreach (PdfRow row in block)
        {
            bool mono = IsMonospaced(row);
            string text = mono ? InColumns(row, monoLeft, pitch) : InProportion(row, left, average);
            if (text.Length == 0) continue;
            (PdfFont font, double size, bool unseen) = Main(row);
            lines.Add(new PrintedLine(text, page, lines.Count + 1, Rounded(row.X), Rounded(row.Y), font.Family, Rounded(size), mono) { Confidence = unseen ? 0.5 : 1 });
        }
    }

    // A hundredth of a point is finer than any printer; noise behind it would only make results differ.
    private static double Rounded(double value) => Math.Round(value, 2);

    private static double AverageWidth(List<PdfRow> block)
    {
        double width = 0;
        int count = 0;
        foreach (PdfRow row in block)
        {
            if (IsMonospaced(row)) continue;
            foreach (PdfLetter letter in row.Letters)
                if (!letter.IsBlank && letter.End > letter.X) (width, count) = (width + letter.End - letter.X, count + 1);
        }

        return count == 0 ? 5 : Math.Max(0.5, width / count);
    }

    private static (PdfFont Font, double Size, bool Unseen) Main(PdfRow row)
    {
        var counts = new Dictionary<(PdfFont, double), int>();
        int unseen = 0;
        (PdfFont, double) main = (row.Letters[0].Font, row.Letters[0].Size);
        int most = 0;
        foreach (PdfLetter letter in row.Letters)
        {
            if (letter.IsBlank) continue;
            if (letter.IsUnseen) unseen++;
            var key = (letter.Font, letter.Size);
            counts.TryGetValue(key, out int n);
            counts[key] = n + 1;
            if (n + 1 > most) (main, most) = (key, n + 1);
        }

        return (main.Item1, main.Item2, unseen > 0);
    }

    private static string InColumns(PdfRow row, double left, double pitch)
    {
        var text = new StringBuilder();
        int column = 0;
        double end = double.NaN;
        foreach (PdfLetter letter in row.Letters)
        {
            if (letter.IsBlank) continue;
            int target = (int)Math.Clamp(Math.Round((letter.X - left) / pitch), 0, MostColumns);
            // Letters that touch belong together, even where their sizes put them off the columns.
            bool touches = letter.X - end < 0.35 * pitch;
            int blanks = touches ? 0 : Math.Max(target - column, column == 0 ? 0 : 1);
            text.Append(' ', blanks).Append(letter.Value);
            column += blanks + 1;
            end = double.IsNaN(end) ? letter.End : Math.Max(end, letter.End);
        }

        return text.ToString();
    }

    private static string InProportion(PdfRow row, double left, double average)
    {
        var text = new StringBuilder();
        double end = double.NaN;
        bool blank = false;
        foreach (PdfLetter letter in row.Letters)
        {
            if (letter.IsBlank)
            {
                blank = true;
                continue;
            }

            double gap = text.Length == 0 ? letter.X - left : letter.X - end;
            int target = (int)Math.Clamp(Math.Round((letter.X - left) / average), 0, MostColumns);
            if (text.Length == 0) text.Append(' ', target);
            else if (gap > 1.2 * row.Size) text.Append(' ', Math.Max(2, target - text.Length));
            else if (blank || gap > 0.16 * row.Size) text.Append(' ');
            text.Append(letter.Value);
            end = double.IsNaN(end) ? letter.End : Math.Max(end, letter.End);
            blank = false;
        }

        return text.ToString();
    }
}
