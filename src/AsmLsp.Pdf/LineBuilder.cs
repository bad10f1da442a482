using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Printed;

namespace AsmLsp.Pdf;

/// <summary>How a row is set.</summary>
/// <param name="IsMonospaced">Whether its characters are on a grid.</param>
/// <param name="Pitch">The step of the grid, or of wide gaps, in points.</param>
/// <param name="Start">Where the first character on the grid starts, in points.</param>
internal readonly record struct RowMeasure(bool IsMonospaced, double Pitch, double Start);

/// <summary>Writes a row of characters as a line of text with its columns.</summary>
internal sealed class LineBuilder(FontWidths widths)
{
    // The next character starts between these parts of an advance from the last one: nearer ones overlap, farther ones leave a column free.
    private const double LeastNext = 0.5;

    // As above; half a step more than one column.
    private const double MostNext = 1.5;

    // A character farther from its column than this part of a step is not on the grid.
    private const double OffGrid = 0.3;

    // A drawn blank fills at least this part of the height.
    private const double LeastBlank = 0.05;

    // Less than this part of a step is no column of its own.
    private const double LeastColumn = 0.4;

    // A gap wider than this part of the font's height is a blank, where the file itself has none (common practice in reading PDF text).
    private const double GapOfBlank = 0.15;

    // A gap wider than this part of the height parts columns of a table, not words.
    private const double GapOfTable = 1.2;

    // One blank of a text font takes about a quarter of the height; from here on, it may be two.
    private const double MostOneBlank = 0.42;

    // About the mean width of the letters of proportional text fonts, as a part of the height. Tables keep their columns in such steps.
    private const double UsualLetter = 0.45;

    // An invisible text layer was guessed from a picture.
    private const double ConfidenceOfLayer = 0.5;

    // Edges nearer than this part of the height meet.
    private const double SameEdge = 0.1;

    private readonly StringBuilder text = new();
    private readonly List<float> starts = [];

    /// <summary>
    /// Whether most characters of a row are equally wide, how far apart they start then (else the step in which wide gaps are counted), and
    /// where the first of them starts, in points. A number in front of the line, in a small font of its own, is not counted.
    /// </summary>
    public RowMeasure Measure(GlyphRow row)
    {
        int mono = 0,
            all = 0;
        double start = row.X;
        var advances = new List<double>();
        for (int i = 0; i < row.Glyphs.Count; i++)
        {
            Glyph glyph = row.Glyphs[i];
            if (glyph.IsBlank)
                continue;
            bool isMonospaced = widths.IsMonospaced(glyph.Font);
            if (!isMonospaced && mono == 0 && all == 0 && glyph.Text.Length == 1 && char.IsAsciiDigit(glyph.Text[0]))
                continue;
            all++;
            if (!isMonospaced)
                continue;
            if (mono++ == 0)
                start = glyph.X;
            // Extra distance between characters is part of the pitch: the next character says it.
            double advance = glyph.Width;
            if (
                i + 1 < row.Glyphs.Count
                && row.Glyphs[i + 1].Font.Key == glyph.Font.Key
                && row.Glyphs[i + 1].X - glyph.X is var next
                && next > LeastNext * advance
                && next < MostNext * advance
            )
                advance = next;
            if (advance > 0)
                advances.Add(advance);
        }

        bool isMono = mono >= 0.8 * all && advances.Count > 0;
        if (!isMono)
            return new RowMeasure(false, Math.Max(1, UsualLetter * row.Size), row.X);
        advances.Sort();
        return new RowMeasure(true, Math.Max(0.5, advances[advances.Count / 2]), start);
    }

    /// <summary>Writes a row.</summary>
    /// <param name="row">The row.</param>
    /// <param name="page">The page's number.</param>
    /// <param name="number">The line's number on the page.</param>
    /// <param name="column">The text column.</param>
    /// <param name="origin">Where column one starts, in points.</param>
    /// <param name="measure">Whether the characters are on a grid, and its step.</param>
    public PrintedLine Build(GlyphRow row, int page, int number, int column, double origin, RowMeasure measure)
    {
        (bool isMonospaced, double pitch, _) = measure;
        text.Clear();
        starts.Clear();
        double confidence = 1;
        double end = double.NaN;
        double blankFrom = double.NaN,
            writtenTo = 0,
            phase = 0;
        int written = 0;
        bool quoted = false,
            inComment = false,
            uncertain = false;
        int unknown = 0,
            shown = 0,
            guessed = 0;
        List<int>? seams = null;
        for (int i = 0; i < row.Glyphs.Count; i++)
        {
            Glyph glyph = row.Glyphs[i];
            if (Array.IndexOf(row.Seams, i) >= 0)
                (seams ??= []).Add(text.Length);
            if (glyph.IsBlank)
            {
                if (double.IsNaN(blankFrom))
                    (blankFrom, written, writtenTo) = (glyph.X, 0, glyph.X);
                // Blanks that the file writes one after the other.
                if (Math.Abs(glyph.X - writtenTo) < SameEdge * glyph.Size)
                    (written, writtenTo) = (written + 1, glyph.EndX);
                else
                    written = int.MinValue / 2;
                continue;
            }

            double fromOrigin = Math.Max(0, glyph.X - origin);
            // After a wide gap is another column, of a table perhaps, with a grid of its own.
            bool onGrid = isMonospaced && widths.IsMonospaced(glyph.Font);
            bool startsColumn =
                onGrid
                && !quoted
                && (double.IsNaN(end) ? fromOrigin > MostNext * pitch : glyph.X - end > MostNext * pitch);
            if (startsColumn)
                phase = fromOrigin / pitch - Math.Round(fromOrigin / pitch);
            fromOrigin -= phase * pitch;
            int blanks;
            // In text without a grid, the blanks themselves say how many they are, where they fill the room.
            bool filled =
                !onGrid
                && !double.IsNaN(blankFrom)
                && written > 0
                && Math.Abs(writtenTo - glyph.X) < SameEdge * glyph.Size
                && Math.Abs(blankFrom - (double.IsNaN(end) ? origin : end)) < SameEdge * glyph.Size;
            if (filled)
                blanks = written;
            else if (double.IsNaN(end))
                blanks = (int)Math.Round(fromOrigin / pitch);
            else
                blanks = Between(glyph, end, blankFrom, onGrid, fromOrigin, pitch, ref confidence);
            bool offGrid = onGrid && Math.Abs(fromOrigin / pitch - Math.Round(fromOrigin / pitch)) > OffGrid;
            if (
                quoted
                && !inComment
                && blanks > 0
                && !filled
                && (offGrid || (!onGrid && glyph.X - end > MostOneBlank * glyph.Size))
            )
                uncertain = true;
            // Where a character of a comment is is of no account.
            if (!inComment && offGrid)
                confidence = Math.Min(confidence, 0.9);
            Append(glyph, Math.Min(blanks, 1000), double.IsNaN(end) ? origin : end);
            if (glyph.Text[0] is '"' or '\u201C' or '\u201D')
                quoted = !quoted;
            inComment |= glyph.Text[0] == ';' && !quoted;
            end = Math.Max(double.IsNaN(end) ? double.MinValue : end, glyph.EndX);
            blankFrom = double.NaN;
            shown++;
            if (glyph.IsInvisible || glyph.IsGuess)
                guessed++;
            if (glyph.Text == Glyph.Unknown)
                unknown++;
        }

        if (unknown > 0)
            confidence = Math.Min(confidence, 1 - unknown / (double)shown);
        if (guessed > 0)
            confidence = Math.Min(confidence, ConfidenceOfLayer);
        if (row.IsOverprinted)
            confidence = Math.Min(confidence, ConfidenceOfLayer);
        FontFace main = MainFont(row, out ImmutableArray<string> names, out double size);
        return new PrintedLine(
            text.ToString(),
            page,
            number,
            Round(row.X),
            Round(row.Y),
            main.Name,
            Round(size),
            isMonospaced
        )
        {
            Confidence = Math.Clamp(confidence, 0, 1),
            IsOcr = guessed > 0,
            IsInkUnknown = guessed > 0,
            FontNames = names,
            CharacterStarts = [.. starts],
            TextColumn = column,
            EndX = Round(row.EndX),
            ColumnStart = Round(origin),
            CharacterWidth = Round(pitch),
            HasUncertainBlanks = uncertain,
            EndsInBlank = row.EndsInBlank,
            RunsOver = row.RunsOver,
            Drawn = row.HasGuess ? (0, -1) : (row.FirstDrawn, row.LastDrawn),
            Seams = seams is null ? [] : [.. seams],
        };
    }

    private int Between(
        in Glyph glyph,
        double end,
        double blankFrom,
        bool onGrid,
        double fromOrigin,
        double pitch,
        ref double confidence
    )
    {
        double gap = glyph.X - end;
        bool hasBlank =
            !double.IsNaN(blankFrom) && blankFrom >= end - SameEdge * glyph.Size && gap > LeastBlank * glyph.Size;
        if (onGrid)
        {
            int blanks = (int)Math.Round(fromOrigin / pitch) - text.Length;
            // One shape may mean two characters: the grid is caught up with at the next gap, which stays one.
            if (gap >= 0.5 * pitch || hasBlank)
                return Math.Max(1, blanks);
            if (gap < -0.5 * pitch)
                confidence = Math.Min(confidence, 0.5);
            return Math.Max(0, gap < LeastColumn * pitch ? 0 : blanks);
        }

        if (gap < GapOfBlank * glyph.Size && !hasBlank)
        {
            if (gap < -0.4 * glyph.Size)
                confidence = Math.Min(confidence, 0.5);
            return 0;
        }

        return gap <= GapOfTable * glyph.Size ? 1 : Math.Max(2, (int)Math.Round(fromOrigin / pitch) - text.Length);
    }

    private void Append(in Glyph glyph, int blanks, double from)
    {
        for (int i = 0; i < blanks; i++)
        {
            starts.Add((float)Round(from + (glyph.X - from) * i / blanks));
            text.Append(' ');
        }

        for (int i = 0; i < glyph.Text.Length; i++)
        {
            starts.Add((float)Round(glyph.X + glyph.Width * i / glyph.Text.Length));
            text.Append(glyph.Text[i]);
        }
    }

    private static FontFace MainFont(GlyphRow row, out ImmutableArray<string> names, out double size)
    {
        var counts = new Dictionary<(string Key, double Size), int>();
        var order = new List<string>();
        (FontFace Face, double Size) best = (row.Glyphs[0].Font, row.Glyphs[0].Size);
        int most = 0;
        foreach (Glyph glyph in row.Glyphs)
        {
            if (glyph.IsBlank)
                continue;
            (string Key, double Size) key = (glyph.Font.Key, Round(glyph.Size));
            int count = counts.GetValueOrDefault(key) + 1;
            counts[key] = count;
            if (count > most)
                (most, best) = (count, (glyph.Font, key.Size));
            if (!order.Contains(glyph.Font.Name))
                order.Add(glyph.Font.Name);
        }

        names = [.. order];
        size = best.Size;
        return best.Face;
    }

    private static double Round(double points) => Math.Round(points, 2);
}
