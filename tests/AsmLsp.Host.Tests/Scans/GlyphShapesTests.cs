using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Tests.Scans;

/// <summary>A character is proved by the others of its kind on the page, whatever the text recognition says of it.</summary>
public class GlyphShapesTests
{
    // Drawn by hand, seven rows of five, three dots a cell.
    private static readonly Dictionary<char, string[]> Drawn = new()
    {
        ['3'] = ["####.", "....#", "....#", ".###.", "....#", "....#", "####."],
        ['8'] = [".###.", "#...#", "#...#", ".###.", "#...#", "#...#", ".###."],
        ['1'] = ["..#..", ".##..", "..#..", "..#..", "..#..", "..#..", ".###."],
        ['7'] = ["#####", "....#", "...#.", "...#.", "..#..", "..#..", "..#.."],
    };

    private const int Dot = 3,
        Pitch = 24,
        Leading = 40;

    // The rows as printed, and as read: the confidence of what was read wrongly is high, that of the rest is low.
    private static ImmutableArray<OcrRow> Judged(string[] printed, string[] read, double confidence = 0.95)
    {
        int width = 40 + Pitch * printed.Max(static p => p.Length),
            height = 60 + Leading * printed.Length;
        byte[] dots = new byte[width * height];
        Array.Fill(dots, (byte)255);
        ImmutableArray<OcrRow>.Builder rows = ImmutableArray.CreateBuilder<OcrRow>();
        for (int r = 0; r < printed.Length; r++)
        {
            int top = 20 + Leading * r;
            ImmutableArray<OcrCharacter>.Builder characters = ImmutableArray.CreateBuilder<OcrCharacter>();
            for (int i = 0; i < printed[r].Length; i++)
            {
                string[] shape = Drawn[printed[r][i]];
                int left = 20 + Pitch * i;
                for (int y = 0; y < shape.Length * Dot; y++)
                for (int x = 0; x < 5 * Dot; x++)
                    if (shape[y / Dot][x / Dot] == '#')
                        dots[(top + y) * width + left + x] = 0;
            }

            for (int i = 0; i < read[r].Length; i++)
            {
                int left = 20 + Pitch * i;
                characters.Add(
                    new OcrCharacter(
                        read[r][i].ToString(),
                        i == 0,
                        left,
                        top,
                        left + 5 * Dot,
                        top + 7 * Dot,
                        confidence
                    )
                );
            }

            rows.Add(new OcrRow(characters.ToImmutable(), top + 7 * Dot, 0));
        }

        return GlyphShapes.Judge(new GrayPicture(width, height, dots), 128, rows.ToImmutable(), 1);
    }

    [Fact]
    public void A_character_that_looks_like_its_kind_and_like_no_other_is_proved()
    {
        ImmutableArray<OcrRow> rows = Judged(
            ["3838", "8383", "1731", "3818", "1117"],
            ["3838", "8383", "1731", "3818", "1117"]
        );
        Assert.All(
            rows.SelectMany(static r => r.Characters).Where(static c => c.Text is "3" or "8" or "1"),
            static c => Assert.Equal(OcrCharacter.Proved, c.Confidence)
        );
    }

    [Fact]
    public void A_digit_that_was_read_as_another_is_refuted_however_sure_the_recognition_was()
    {
        ImmutableArray<OcrRow> rows = Judged(
            ["3838", "8383", "3888", "3833"],
            ["3838", "8383", "3388", "3833"],
            confidence: 0.99
        );
        Assert.True(rows[2].Characters[1].Confidence <= 0.5);
    }

    [Fact]
    public void A_digit_whose_own_kind_is_nowhere_else_is_not_proved_as_the_one_that_it_was_read_as()
    {
        ImmutableArray<OcrRow> rows = Judged(["1111", "1171", "3338"], ["1111", "1111", "3338"]);
        Assert.True(rows[1].Characters[2].Confidence < OcrCharacter.Proved);
    }

    [Fact]
    public void A_character_of_which_there_are_too_few_is_not_proved()
    {
        ImmutableArray<OcrRow> rows = Judged(["3338", "3338"], ["3338", "3338"]);
        Assert.True(rows[0].Characters[3].Confidence < OcrCharacter.Proved);
    }

    [Fact]
    public void A_word_with_ink_for_one_more_character_is_not_whole()
    {
        ImmutableArray<OcrRow> rows = Judged(
            ["3838", "8383", "1731", "3838", "8311"],
            ["3838", "8383", "1731", "388", "8311"]
        );
        Assert.DoesNotContain(rows[0].Characters, static c => !c.HasOwnInk);
        Assert.Contains(rows[3].Characters, static c => !c.HasOwnInk || c.Confidence < OcrCharacter.Proved);
    }
}
