using System.Collections.Immutable;
using AsmLsp.Core.Printed;

namespace AsmLsp.Host.Scans;

/// <summary>
/// Compares the ink of each character with that of the others on its page that were read as the same character, and with that of all other characters. A page is set
/// in one type, so a digit that was read wrongly looks like the wrong ones of its page, whatever the text recognition says of its confidence.
/// </summary>
internal sealed class GlyphShapes
{
    // The size of a shape: so many samples make the height of the characters.
    private const int Wide = 30,
        Tall = 34,
        SamplesOfHeight = 18,
        LeastHeight = 5;

    // Characters read with less confidence teach nothing; of fewer than this nothing is learned.
    private const double Sure = 0.9;
    private const int Least = 4,
        LeastOfOthers = 2;

    // A proof: not farther from its kind than twice as far as half of them are, nor than this; and every other kind is farther by so much. Measured with digits
    // judged as if they had been read as others (docs/recovery.md).
    private const double Near = 2,
        LooseNear = 3,
        Alike = 0.25,
        Apart = 1.15,
        Far = 2,
        Unknown = 9;

    // The confidence of a character that looks like another kind.
    private const double Refuted = 0.5;

    // Letters that text recognition takes for each other throughout a page: its kinds may be mixed.
    private static readonly string[] Rivals = ["ce", "EF", "EB", "ft", "hb", "uv", "da"];

    // Shapes of these are alike in many types; within a number only the digit is possible, and names are judged with that in mind.
    private static readonly string[] OneShape = ["0Oo", "1lIi|!", "5Ss", "2Zz", "9gq", "6G"];

    private readonly GrayPicture picture;
    private readonly int threshold;
    private readonly double height;
    private readonly double points;
    private readonly ImmutableArray<OcrRow> rows;
    private readonly List<SeenGlyph> glyphs = [];
    private readonly Dictionary<string, Letter> letters = new(StringComparer.Ordinal);

    private GlyphShapes(GrayPicture picture, int threshold, ImmutableArray<OcrRow> rows, double points)
    {
        (this.picture, this.threshold, this.rows, this.points) = (picture, threshold, rows, points);
        double[] heights =
        [
            .. rows.SelectMany(static r => r.Characters)
                .Where(static c => c.Text.Length == 1 && char.IsAsciiLetterOrDigit(c.Text[0]))
                .Select(static c => c.Bottom - c.Top)
                .Order(),
        ];
        height = heights.Length == 0 ? 0 : heights[heights.Length / 2] / points;
    }

    /// <summary>The rows with what the shapes say of each character.</summary>
    public static ImmutableArray<OcrRow> Judge(
        GrayPicture picture,
        int threshold,
        ImmutableArray<OcrRow> rows,
        double points
    )
    {
        var shapes = new GlyphShapes(picture, threshold, rows, points);
        return shapes.height < LeastHeight ? rows : shapes.Judge();
    }

    private ImmutableArray<OcrRow> Judge()
    {
        (GlyphBlob? Blob, bool IsApart)[][] blobs = new GlyphBlobs(picture, threshold, height).Of(rows, points);
        for (int r = 0; r < rows.Length; r++)
        for (int i = 0; i < blobs[r].Length; i++)
            if (blobs[r][i].Blob is { } blob && rows[r].Characters[i].Text.Length == 1)
                glyphs.Add(new SeenGlyph(r, i, rows[r].Characters[i], Sample(blob, rows[r])));
        foreach (IGrouping<string, SeenGlyph> group in glyphs.GroupBy(static g => g.Character.Text))
            if (Letter.Of([.. group.Where(static g => g.Character.Confidence >= Sure)]) is { } letter)
                letters.Add(group.Key, letter);
        var judged = rows.Select(static r => r.Characters.ToBuilder()).ToArray();
        for (int r = 0; r < rows.Length; r++)
        for (int i = 0; i < blobs[r].Length; i++)
            if (blobs[r][i].IsApart)
                judged[r][i] = judged[r][i] with { HasOwnInk = true };
        foreach (SeenGlyph glyph in glyphs)
        {
            OcrCharacter c = judged[glyph.Row][glyph.Index];
            judged[glyph.Row][glyph.Index] = Judged(glyph) switch
            {
                Verdict.Proved => c with { Confidence = OcrCharacter.Proved, HasOwnInk = true },
                Verdict.Fits => c with { HasOwnInk = true },
                Verdict.Refuted => c with { Confidence = Math.Min(c.Confidence, Refuted) },
                _ => c,
            };
        }

        return [.. rows.Select((r, i) => r with { Characters = judged[i].ToImmutable() })];
    }

    private enum Verdict
    {
        Unknown,
        Proved,
        Fits,
        Refuted,
    }

    private Verdict Judged(SeenGlyph glyph)
    {
        (double own, double limit, double other) = Distances(glyph);
        if (own <= Math.Min(Near * limit, Alike) && own * Apart <= other)
            return HasRivals(glyph.Character.Text[0]) ? Verdict.Proved : Verdict.Fits;
        if (own < Far && own > Near * limit && other < Alike && other * Apart < own)
            return Verdict.Refuted;
        return own <= Math.Max(LooseNear * limit, Alike) && own < Far ? Verdict.Fits : Verdict.Unknown;
    }

    // What is taken for another letter again and again is proved only where the page has that one as well.
    private bool HasRivals(char c)
    {
        foreach (string set in Rivals)
        {
            if (!set.Contains(c, StringComparison.Ordinal))
                continue;
            foreach (char rival in set)
                if (rival != c && !(letters.TryGetValue(rival.ToString(), out Letter? letter) && letter.Count >= Least))
                    return false;
        }

        return true;
    }

    // How far a character is from the others of its kind, how far these are from each other, and how far the nearest other kind is.
    private (double Own, double Limit, double Other) Distances(SeenGlyph glyph)
    {
        double own = Unknown,
            limit = 0,
            other = Unknown;
        foreach ((string text, Letter letter) in letters)
        {
            if (text == glyph.Character.Text)
            {
                if (letter.Count > (letter.Has(glyph) ? Least : Least - 1))
                    (own, limit) = (letter.Without(glyph), letter.Spread);
                continue;
            }

            if (
                letter.Count < LeastOfOthers
                || !letter.MayBe(glyph.SampledInk)
                || Array.Exists(OneShape, s => s.Contains(text[0]) && s.Contains(glyph.Character.Text[0]))
            )
                continue;
            other = Math.Min(other, letter.From(glyph.SampledInk));
        }

        return (own, limit, other);
    }

    private SampledInk Sample(GlyphBlob blob, OcrRow row)
    {
        double sum = 0,
            sumX = 0,
            sumY = 0;
        for (int y = blob.Top; y <= blob.Bottom; y++)
        for (int x = blob.Left; x <= blob.Right; x++)
        {
            double ink = 255 - picture.Dots[y * picture.Width + x];
            sum += ink;
            sumX += ink * x;
            sumY += ink * y;
        }

        double centerX = sumX / sum,
            centerY = sumY / sum,
            step = height / SamplesOfHeight;
        float[] samples = new float[Wide * Tall];
        for (int j = 0; j < Tall; j++)
        for (int i = 0; i < Wide; i++)
            samples[j * Wide + i] = InkAt(
                blob,
                centerX + (i - (Wide - 1) / 2.0) * step,
                centerY + (j - (Tall - 1) / 2.0) * step
            );
        double baseLine = row.BaseLine / points + row.Slope * blob.Center;
        return new SampledInk(samples, blob.Width / height, blob.Height / height, (baseLine - blob.Bottom) / height);
    }

    // Between four dots, of this blob only.
    private float InkAt(GlyphBlob blob, double x, double y)
    {
        int left = (int)Math.Floor(x),
            top = (int)Math.Floor(y);
        double partX = x - left,
            partY = y - top;
        return (float)(
            (Dot(left, top) * (1 - partX) + Dot(left + 1, top) * partX) * (1 - partY)
            + (Dot(left, top + 1) * (1 - partX) + Dot(left + 1, top + 1) * partX) * partY
        );

        double Dot(int column, int line) =>
            column < blob.Left || column > blob.Right || line < blob.Top || line > blob.Bottom
                ? 0
                : (255 - picture.Dots[line * picture.Width + column]) / 255.0;
    }

    /// <summary>What a character looks like.</summary>
    /// <param name="Ink">Its ink around its middle.</param>
    /// <param name="Width">Its width in heights of characters.</param>
    /// <param name="Height">Its height likewise.</param>
    /// <param name="Above">How far its foot is above the base line likewise.</param>
    private sealed record SampledInk(float[] Ink, double Width, double Height, double Above);

    private sealed record SeenGlyph(int Row, int Index, OcrCharacter Character, SampledInk SampledInk);

    /// <summary>All that was read as one character.</summary>
    private sealed class Letter
    {
        private const double Outlier = 2,
            SameSize = 0.35,
            SamePlace = 0.08;

        private readonly HashSet<SeenGlyph> members;
        private readonly float[] sum = new float[Wide * Tall];
        private double width,
            height,
            above;

        private Letter(HashSet<SeenGlyph> members)
        {
            this.members = members;
            foreach (SeenGlyph glyph in members)
            {
                for (int i = 0; i < sum.Length; i++)
                    sum[i] += glyph.SampledInk.Ink[i];
                width += glyph.SampledInk.Width;
                height += glyph.SampledInk.Height;
                above += glyph.SampledInk.Above;
            }

            (width, height, above) = (width / Count, height / Count, above / Count);
            double[] distances = [.. members.Select(Without).Order()];
            Spread = distances[distances.Length / 2];
        }

        public int Count => members.Count;

        /// <summary>How far half of them are from all others.</summary>
        public double Spread { get; }

        public static Letter? Of(HashSet<SeenGlyph> members)
        {
            if (members.Count == 0)
                return null;
            var all = new Letter(members);
            if (members.Count < Least)
                return all;
            // What is far from all others was misread, or is of another type.
            double limit = Outlier * all.Spread;
            HashSet<SeenGlyph> near = [.. members.Where(g => all.Without(g) <= limit)];
            return near.Count == members.Count || near.Count == 0 ? all : new Letter(near);
        }

        public bool Has(SeenGlyph glyph) => members.Contains(glyph);

        /// <summary>Whether a shape has about the same size.</summary>
        public bool MayBe(SampledInk shape) =>
            Math.Abs(shape.Width - width) < SameSize && Math.Abs(shape.Height - height) < SameSize;

        public double From(SampledInk shape) => Distance(shape, 1f / Count, null);

        /// <summary>How far a glyph is from the others.</summary>
        public double Without(SeenGlyph glyph) =>
            !members.Contains(glyph) ? From(glyph.SampledInk)
            : Count == 1 ? Unknown
            : Distance(glyph.SampledInk, 1f / (Count - 1), glyph.SampledInk.Ink);

        private double Distance(SampledInk shape, float part, float[]? without)
        {
            double difference = 0,
                all = 0;
            float[] ink = shape.Ink;
            for (int i = 0; i < ink.Length; i++)
            {
                float mean = (without is null ? sum[i] : sum[i] - without[i]) * part,
                    d = ink[i] - mean;
                difference += d * d;
                all += ink[i] * ink[i] + mean * mean;
            }

            double place = Math.Max(0, Math.Abs(shape.Above - above) - SamePlace);
            return Math.Sqrt(difference / all) + place;
        }
    }
}
