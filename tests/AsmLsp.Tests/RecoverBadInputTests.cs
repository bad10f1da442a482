using System.Text;

namespace AsmLsp.Tests;

/// <summary>What is no use to <c>recover</c> ends with 2, says why in one sentence, and leaves no file after: no source, no report, no page, no archive.</summary>
public sealed class RecoverBadInputTests : IDisposable
{
    private const string Program =
        "        list    p=16f84a\n        __config 0x3ff1\n        org     0\nstart   movlw   1\n        movwf   6\n        goto    start\n        end\n";

    private readonly string folder = Directory.CreateTempSubdirectory("relist-input-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Good_document_of_the_same_make_is_written() =>
        Assert.Equal(
            (0, true),
            Recover("kit.pdf", Pdf(Page(Program))) is var (code, _, files) ? (code, files == 4) : default
        );

    [Fact]
    public void Empty_file_is_refused() => Refused("kit.txt", [], "empty (0 bytes)");

    [Fact]
    public void Empty_document_is_refused() => Refused("kit.pdf", [], "empty (0 bytes)");

    [Fact]
    public void Blank_text_is_refused() => Refused("kit.txt", "\n   \n\n"u8.ToArray(), "no assembly program");

    [Fact]
    public void Letter_is_refused() =>
        Refused(
            "kit.txt",
            Encoding.UTF8.GetBytes(
                string.Concat(
                    Enumerable.Repeat("Dear reader,\nthe roses are in bloom, and we hope that you will see them.\n", 30)
                )
            ),
            "no assembly program"
        );

    [Fact]
    public void Program_file_named_as_text_is_refused() =>
        Refused("kit.txt", [0x7F, (byte)'E', (byte)'L', (byte)'F', 2, 1, 1, 0, 0, 0, 3, 0, 62, 9, 9, 9], "not a text");

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Text_of_two_bytes_a_character_is_read_with_its_mark_and_without(bool hasMark)
    {
        byte[] text = Encoding.Unicode.GetBytes(Program);
        Assert.Equal(0, Recover("kit.txt", hasMark ? [0xFF, 0xFE, .. text] : text).Code);
    }

    [Fact]
    public void Too_long_a_text_is_refused() =>
        Refused("kit.txt", Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat("        nop\n", 180_000))), "2 MB");

    [Fact]
    public void Folder_and_missing_file_are_refused()
    {
        Directory.CreateDirectory(Path.Combine(folder, "kit.d"));
        Refused("kit.d", null, "is a folder");
        Refused("none.pdf", null, "There is no file");
    }

    [Fact]
    public void Locked_document_is_refused() =>
        Refused(
            "kit.pdf",
            File.ReadAllBytes(
                Path.Combine(RawPdf.Repository(), "tests", "AsmLsp.Pdf.Tests", "fixtures", "password.pdf")
            ),
            "locked with a password"
        );

    [Fact]
    public void Document_that_is_cut_off_is_refused_or_reported()
    {
        byte[] whole = Pdf(Page(Program));
        Refused("kit.pdf", whole[..(whole.Length / 2)], "damaged");
        (int code, string errors, int files) = Recover("kit.pdf", whole[..^8]);
        Assert.Equal((1, 4), (code, files));
        Assert.Contains("cut off", errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Document_of_prose_is_refused() =>
        Refused(
            "kit.pdf",
            Pdf(Page("Dear reader,\nthe roses are in bloom,\nand we hope that you will see them.\n")),
            "No program was found"
        );

    [Fact]
    public void Document_of_form_fields_is_refused() =>
        Refused(
            "kit.pdf",
            Pdf(
                "",
                "/AcroForm << /Fields [6 0 R] >>",
                "/Annots [6 0 R]",
                "<< /Type /Annot /Subtype /Widget /FT /Tx /T (name) /V (movlw 1) /Rect [50 700 300 720] /P 3 0 R >>"
            ),
            "fields of a form"
        );

    [Fact]
    public void Text_from_top_to_bottom_and_from_right_to_left_is_refused()
    {
        string[] lines = Program.Split('\n');
        IEnumerable<(char Letter, int Line, int Column)> letters = lines
            .SelectMany((line, i) => line.Select((c, k) => (c, i, k)))
            .Where(l => l.c is not (' ' or '(' or ')'));
        Refused(
            "down.pdf",
            Pdf(
                "BT /F1 9 Tf "
                    + string.Concat(
                        letters.Select(l =>
                            FormattableString.Invariant(
                                $"1 0 0 1 {500 - 20 * l.Line} {800 - 10 * l.Column} Tm ({l.Letter}) Tj "
                            )
                        )
                    )
                    + "ET"
            ),
            "No program was found"
        );
        Refused(
            "left.pdf",
            Pdf(
                "BT /F1 9 Tf "
                    + string.Concat(
                        letters.Select(l =>
                            FormattableString.Invariant(
                                $"1 0 0 1 {500 - 5.4 * l.Column} {800 - 12 * l.Line} Tm ({l.Letter}) Tj "
                            )
                        )
                    )
                    + "ET"
            ),
            "No program was found"
        );
    }

    [Fact]
    public void Circle_of_references_is_refused() =>
        Refused("kit.pdf", Pdf(Page(Program), page: "/CropBox 6 0 R", more: "6 0 R"), "circle");

    [Fact]
    public void Two_programs_are_refused_until_one_is_chosen()
    {
        string other = Program.Replace("16f84a", "16f628a", StringComparison.Ordinal);
        Refused("kit.txt", Encoding.ASCII.GetBytes(Program + "\n" + other), "whole program, complete");
        (int code, _, int files) = Recover("kit.txt", Encoding.ASCII.GetBytes(Program + "\n" + other), "--pick", "2");
        Assert.Equal((0, 4), (code, files));
        Assert.Contains("16f628a", File.ReadAllText(Path.Combine(folder, "out.asm")), StringComparison.Ordinal);
        Assert.DoesNotContain("16f84a", File.ReadAllText(Path.Combine(folder, "out.asm")), StringComparison.Ordinal);
        // The same program twice is no choice: it is taken once.
        Assert.Equal(0, Recover("kit.txt", Encoding.ASCII.GetBytes(Program + "\n" + Program)).Code);
    }

    [Fact]
    public async Task Document_on_standard_input_is_read_and_reported_as_any_other()
    {
        foreach (
            (byte[] bytes, int expected) in new[] { (Pdf(Page(Program)), 0), (Pdf(Page(Program))[..300], 2), ([], 2) }
        )
        {
            using RelistProcess relist = RelistProcess.Start("recover", "-");
            await relist.WriteAsync(bytes);
            string output = await relist.OutputAsync();
            Assert.Equal(expected, (await relist.EndAsync()).Code);
            Assert.Equal(expected == 0, output.Contains("movlw   1", StringComparison.Ordinal));
        }
    }

    private void Refused(string name, byte[]? bytes, string reason)
    {
        (int code, string errors, int files) = Recover(name, bytes);
        Assert.Equal((2, 0), (code, files));
        Assert.Contains(reason, errors, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", errors, StringComparison.Ordinal);
    }

    // The exit code, what was reported, and how many of the four outputs are there.
    private (int Code, string Errors, int Files) Recover(string name, byte[]? bytes, params string[] more)
    {
        string[] outputs =
        [
            .. ((string[])["out.asm", "out.json", "out.html", "out.d"]).Select(n => Path.Combine(folder, n)),
        ];
        foreach (string output in outputs)
            if (Directory.Exists(output))
                Directory.Delete(output, recursive: true);
            else
                File.Delete(output);
        if (bytes is not null)
            File.WriteAllBytes(Path.Combine(folder, name), bytes);
        var error = new StringWriter();
        int code = CommandLine.Run(
            [
                "recover",
                Path.Combine(folder, name),
                "-o",
                outputs[0],
                "--report",
                outputs[1],
                "--review",
                outputs[2],
                "--archive",
                outputs[3],
                .. more,
            ],
            TextWriter.Null,
            error
        );
        return (code, error.ToString(), outputs.Count(Path.Exists));
    }

    private static string Page(string text) => RawPdf.Content(text.Split('\n'));

    // One page; more objects begin at number 6.
    private static byte[] Pdf(string content, string catalog = "", string page = "", params string[] more) =>
        RawPdf.File([
            $"<< /Type /Catalog /Pages 2 0 R {catalog} >>",
            "<< /Type /Pages /Kids [3 0 R] /Count 1 >>",
            $"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Resources << /Font << /F1 4 0 R >> >> /Contents 5 0 R {page} >>",
            "<< /Type /Font /Subtype /Type1 /BaseFont /Courier >>",
            $"<< /Length {content.Length} >>\nstream\n{content}\nendstream",
            .. more,
        ]);
}
