using System.Collections.Immutable;
using System.Globalization;
using System.Net;
using AsmLsp.Core.Printed;

namespace AsmLsp.Host.Scans;

/// <summary>
/// Reads the lines and characters of a page in the hOCR format (hOCR 1.2: ocr_line with bbox and baseline, ocrx_word,
/// ocrx_cinfo with x_bboxes and x_conf). What is not understood is left out.
/// </summary>
internal static class HocrReader
{
    // Nobody's page has more.
    private const int MostCharacters = 100_000;

    /// <summary>The rows of the first page.</summary>
    /// <param name="hocr">The text of the file.</param>
    /// <param name="points">Points per dot of the picture.</param>
    public static ImmutableArray<OcrRow> Read(string hocr, double points)
    {
        ImmutableArray<OcrRow>.Builder rows = ImmutableArray.CreateBuilder<OcrRow>();
        ImmutableArray<OcrCharacter>.Builder characters = ImmutableArray.CreateBuilder<OcrCharacter>();
        double baseLine = 0,
            slope = 0;
        bool startsWord = true;
        int all = 0;
        for (
            int at = hocr.IndexOf("<span", StringComparison.Ordinal);
            at >= 0 && all < MostCharacters;
            at = hocr.IndexOf("<span", at + 5, StringComparison.Ordinal)
        )
        {
            int end = hocr.IndexOf('>', at);
            if (end < 0)
                break;
            ReadOnlySpan<char> tag = hocr.AsSpan(at, end - at);
            if (tag.Contains("ocrx_cinfo", StringComparison.Ordinal))
            {
                int close = hocr.IndexOf('<', end);
                if (close < 0)
                    break;
                string text = WebUtility.HtmlDecode(hocr[(end + 1)..close]).Trim();
                if (
                    text.Length is 0 or > 8
                    || Numbers(tag, "x_bboxes", 4) is not { } box
                    || Numbers(tag, "x_conf", 1) is not { } confidence
                )
                    continue;
                characters.Add(
                    new OcrCharacter(
                        text,
                        startsWord,
                        box[0] * points,
                        box[1] * points,
                        box[2] * points,
                        box[3] * points,
                        Math.Clamp(confidence[0] / 100, 0, 1)
                    )
                );
                startsWord = false;
                all++;
            }
            else if (tag.Contains("ocrx_word", StringComparison.Ordinal))
            {
                startsWord = true;
            }
            else if (Numbers(tag, "bbox", 4) is { } line)
            {
                Close(rows, characters, baseLine, slope);
                double[] reported = Numbers(tag, "baseline", 2) ?? [0, 0];
                slope = Math.Clamp(reported[0], -0.2, 0.2);
                // Measured from the lower left corner of the line's box; wanted at the left edge of the page.
                baseLine = (line[3] + reported[1] - slope * line[0]) * points;
                startsWord = true;
            }
        }

        Close(rows, characters, baseLine, slope);
        return rows.ToImmutable();
    }

    private static void Close(
        ImmutableArray<OcrRow>.Builder rows,
        ImmutableArray<OcrCharacter>.Builder characters,
        double baseLine,
        double slope
    )
    {
        if (characters.Count > 0)
            rows.Add(new OcrRow(characters.ToImmutable(), baseLine, slope));
        characters.Clear();
    }

    // The numbers after a word of a title, or null where there are not so many.
    private static double[]? Numbers(ReadOnlySpan<char> tag, string word, int count)
    {
        int at = tag.IndexOf(word + " ", StringComparison.Ordinal);
        if (at < 0)
            return null;
        ReadOnlySpan<char> rest = tag[(at + word.Length + 1)..];
        double[] numbers = new double[count];
        for (int i = 0; i < count; i++)
        {
            rest = rest.TrimStart(' ');
            int length = rest.IndexOfAny(" ;'\"");
            if (length < 0)
                length = rest.Length;
            if (
                !double.TryParse(rest[..length], NumberStyles.Float, CultureInfo.InvariantCulture, out numbers[i])
                || !double.IsFinite(numbers[i])
            )
                return null;
            rest = rest[length..];
        }

        return numbers;
    }
}
