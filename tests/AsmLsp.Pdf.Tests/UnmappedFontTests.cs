using System.Globalization;
using System.Text;
using AsmLsp.Core.Printed;

namespace AsmLsp.Pdf.Tests;

/// <summary>Fonts of which the document does not say what their codes mean: drawn ones (Type 3) with numbers for names, and those with a font program that knows.</summary>
public class UnmappedFontTests
{
    private const string Program = """
                list p=16f84a, r=dec
                __config 0x3ff1 ; {a|b} \ ^ ~ <c> $ "d" `e'
        lamp    equ 6
                org 0
        start   movlw 1
                movwf lamp
                btfss STATUS,Z
                goto start
                end
        """;

    private static readonly string[] Lines = Program.Split('\n');

    // Widths as text fonts have them: in thousandths of the height, from memory.
    private static int Proportional(int code) =>
        code switch
        {
            'i' or 'j' or 'l' or '!' or ',' or '.' or ';' or '\'' or '`' => 278,
            'm' or 'M' or 'W' => 833,
            '=' or '+' => 778,
            _ => 500,
        };

    private static int Monospaced(int code) => 525;

    [Fact]
    public void Names_that_are_the_codes_are_read_in_a_font_of_one_width()
    {
        PrintedPage page = Read(Lines, Monospaced, c => $"a{c}").Pages[0];
        Assert.Equal(Lines, page.Lines.Select(l => l.Text));
        Assert.All(page.Lines, l => Assert.Equal((1, true), (l.Confidence, l.IsMonospaced)));
    }

    [Fact]
    public void Numbers_in_the_names_are_read_where_the_codes_are_others()
    {
        // Each code is 128 more than the number in its name.
        string[] moved = [.. Lines.Select(l => string.Concat(l.Select(c => c == ' ' ? c : (char)(c + 128))))];
        Assert.Equal(Lines, Read(moved, Monospaced, c => $"c{c - 128}").Pages[0].Lines.Select(l => l.Text));
    }

    [Fact]
    public void Letters_numbered_in_the_order_of_their_use_are_not_guessed()
    {
        var order = new List<char>();
        string[] moved =
        [
            .. Lines.Select(l =>
                string.Concat(
                    l.Select(c =>
                    {
                        if (c == ' ')
                            return c;
                        if (!order.Contains(c))
                            order.Add(c);
                        return (char)(33 + order.IndexOf(c));
                    })
                )
            ),
        ];
        Assert.Equal(
            PrintedFailureKind.Illegible,
            new PdfReader().Read(Type3(moved, Monospaced, c => $"g{c}")).Failure!.Kind
        );
    }

    [Fact]
    public void Signs_that_text_fonts_put_elsewhere_stay_unknown_until_their_widths_show_them()
    {
        string[] text = [.. Lines, "; a<b and c>d, e|f, _g"];
        // Older fonts have turned marks at the places of the two signs, as wide as '!'; newer ones have the signs, as wide as '='.
        string older = Read(text, c => c is '<' or '>' ? 278 : Proportional(c), c => $"a{c}").Pages[0].Lines[^1].Text;
        string newer = Read(text, c => c is '<' or '>' ? 778 : Proportional(c), c => $"a{c}").Pages[0].Lines[^1].Text;
        Assert.Equal("; a\uFFFDb and c\uFFFDd, e\uFFFDf, _g", older);
        Assert.Equal("; a<b and c>d, e\uFFFDf, _g", newer);
    }

    [Fact]
    public void Letters_with_accents_prove_the_newer_table()
    {
        // 0xFC and 0xBF in table T1 (LaTeX font encodings guide, from memory): u with a diaeresis, the pound sign.
        string[] text = [.. Lines, "; f\u00FCr 1\u00BF: \\ {} | <>"];
        Assert.Equal("; f\u00FCr 1\u00A3: \\ {} | <>", Read(text, Proportional, c => $"a{c}").Pages[0].Lines[^1].Text);
    }

    [Fact]
    public void Joined_letters_within_words_prove_the_older_table()
    {
        string[] text = [.. Lines, "; \u000Crst and o\u000Ece"];
        Assert.Equal("; first and office", Read(text, Proportional, c => $"a{c}").Pages[0].Lines[^1].Text);
    }

    [Fact]
    public void Font_of_a_few_signs_is_not_read_beside_one_that_is()
    {
        // As the fonts of formulas have them: a bar where others have 'j'.
        PrintedDocument document = Read(Lines, Monospaced, c => $"a{c}", signs: "j");
        Assert.Equal("\uFFFD", document.Pages[0].Lines[^1].Text);
        Assert.Equal("17", Read(Lines, Monospaced, c => $"a{c}", signs: "17").Pages[0].Lines[^1].Text);
    }

    [Fact]
    public void Upright_quotes_of_a_companion_font_are_read_at_the_width_of_the_program()
    {
        Assert.Equal("''", Read(Lines, Monospaced, c => $"a{c}", signs: "''").Pages[0].Lines[^1].Text);
        Assert.Equal(
            "\uFFFD\uFFFD",
            Read(Lines, Monospaced, c => $"a{c}", signs: "''", widthOfSigns: 778).Pages[0].Lines[^1].Text
        );
    }

    [Fact]
    public void Line_with_an_unknown_character_in_its_code_carries_a_doubt()
    {
        string[] text = [.. Lines[..^1], "        dt \"a|b\" ; c", "        end"];
        PrintedDocument document = Read(text, Proportional, c => $"a{c}");
        Core.Recovery.Results.RecoveryResult result = Core.Recovery.DocumentRecovery.Run(document);
        Assert.Contains(
            "dt \"a\uFFFDb\"  ; c ;? a character here is not known (page 1, line 9)",
            result.Source.ToString(),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Font_program_names_its_characters_where_the_document_does_not()
    {
        // Segments of format 4 (OpenType specification, 'cmap'): U+0061..0063 are shapes 5 to 7; U+00AD is shape 9, as U+002D is.
        EmbeddedMap map = EmbeddedMap.Of(TrueType(3, 1, (0x2D, 0x2D, 9), (0x61, 0x63, 5), (0xAD, 0xAD, 9)), default)!;
        Assert.Equal(["a", "c", "-", null, null], new[] { 5, 7, 9, 8, 0 }.Select(map.CharacterOf));
        // Shapes may be named by a table of the document.
        Assert.Equal("b", EmbeddedMap.Of(TrueType(0, 3, (0x61, 0x63, 5)), new byte[] { 0, 0, 0, 6 })!.CharacterOf(1));
        // Symbols have no Unicode table, and a table that is cut off says what it has.
        Assert.Null(EmbeddedMap.Of(TrueType(3, 0, (0x61, 0x63, 5)), default));
        Assert.Null(EmbeddedMap.Of(TrueType(3, 1, (0x61, 0x63, 5)).AsSpan(0, 44), default));
    }

    private static PrintedDocument Read(
        string[] lines,
        Func<int, int> width,
        Func<int, string> name,
        string signs = "",
        int widthOfSigns = 525
    )
    {
        PrintedReading reading = new PdfReader().Read(Type3(lines, width, name, signs, widthOfSigns));
        Assert.True(reading.Failure is null, reading.Failure?.Message);
        return reading.Document!;
    }

    // A page set in fonts whose letters are drawn: nothing, here. Blanks are room, as TeX leaves it.
    private static byte[] Type3(
        string[] lines,
        Func<int, int> width,
        Func<int, string> name,
        string signs = "",
        int widthOfSigns = 525
    )
    {
        var content = new StringBuilder("BT\n");
        double y = 780;
        foreach (string line in lines)
        {
            double x = 60;
            foreach (string word in line.Split(' '))
            {
                if (word.Length > 0)
                    content.Append(
                        CultureInfo.InvariantCulture,
                        $"/F1 10 Tf 1 0 0 1 {x:0.###} {y} Tm <{Hex(word)}> Tj\n"
                    );
                x += 10 * (word.Sum(c => width(c)) + width(' ')) / 1000.0;
            }

            y -= 12;
        }

        if (signs.Length > 0)
            content.Append(CultureInfo.InvariantCulture, $"/F2 10 Tf 1 0 0 1 60 {y} Tm <{Hex(signs)}> Tj\n");
        content.Append("ET");
        int[] codes = [.. lines.SelectMany(l => l).Where(c => c != ' ').Select(c => (int)c).Distinct().Order()];
        return Pdfs.Raw([
            "<< /Type /Catalog /Pages 2 0 R >>"u8.ToArray(),
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"u8.ToArray(),
            "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources << /Font << /F1 5 0 R /F2 6 0 R >> >> >>"u8.ToArray(),
            Pdfs.Stream(Encoding.Latin1.GetBytes(content.ToString())),
            Font(codes, width, name),
            Font([.. signs.Select(c => (int)c).Distinct().Order()], _ => widthOfSigns, c => $"a{c}"),
            Pdfs.Stream([]),
        ]);
    }

    private static byte[] Font(int[] codes, Func<int, int> width, Func<int, string> name)
    {
        if (codes.Length == 0)
            codes = ['0'];
        string differences = string.Join(' ', codes.Select(c => $"{c} /{name(c)}"));
        string shapes = string.Join(' ', codes.Select(c => $"/{name(c)} 7 0 R"));
        string widths = string.Join(' ', Enumerable.Range(codes[0], codes[^1] - codes[0] + 1).Select(width));
        return Encoding.Latin1.GetBytes(
            $"<< /Type /Font /Subtype /Type3 /FontBBox [0 0 1000 1000] /FontMatrix [0.001 0 0 0.001 0 0] /FirstChar {codes[0]} /LastChar {codes[^1]} /Widths [{widths}] /Encoding << /Type /Encoding /Differences [{differences}] >> /CharProcs << {shapes} >> /Resources << >> >>"
        );
    }

    private static string Hex(string text) => Convert.ToHexString(Encoding.Latin1.GetBytes(text));

    private static byte[] TrueType(int platform, int encoding, params (int First, int Last, int Shape)[] segments)
    {
        int[] all =
        [
            0x0001,
            0x0000,
            1,
            0,
            0,
            0, // version, tables
            0x636D,
            0x6170,
            0,
            0,
            0,
            28,
            0,
            999, // 'cmap', its place
            0,
            1,
            platform,
            encoding,
            0,
            12, // one table
            4,
            16 + 8 * segments.Length,
            0,
            2 * segments.Length,
            0,
            0,
            0,
            .. segments.Select(s => s.Last),
            0,
            .. segments.Select(s => s.First),
            .. segments.Select(s => s.Shape - s.First & 0xFFFF),
            .. segments.Select(_ => 0),
        ];
        return [.. all.SelectMany(v => new[] { (byte)(v >> 8), (byte)v })];
    }
}
