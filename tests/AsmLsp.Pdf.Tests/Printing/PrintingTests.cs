using AsmLsp.Core.Printed;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>What three producers of PDF files print is read back as it was laid out.</summary>
public class PrintingTests
{
    private static readonly string Source = File.ReadAllText(
        Path.Combine(AppContext.BaseDirectory, "demo", "crossing.asm")
    );

    [Theory]
    [InlineData("PdfPig")]
    [InlineData("Chromium")]
    [InlineData("groff")]
    public void Each_kind_of_damage_is_read_as_it_was_printed(string printer)
    {
        var faults = new List<string>();
        foreach (DamageKind damage in (DamageKind[])[.. Enum.GetValues<DamageKind>(), .. Printing.Usual])
        {
            Sheets sheets = Sheets.Of(Source, damage, line => line % 2 == 0 ? (line, 0x3000 + line) : null);
            string[] printed = [.. sheets.Lines.Select(l => Seen(l, sheets.IsProportional)).Where(l => l.Length > 0)];
            PrintedReading reading = new PdfReader().Read(Printers.Named(printer).Print(sheets));
            Assert.Null(reading.Failure);
            string[] read =
            [
                .. reading.Document!.Pages.SelectMany(p => p.Lines).Select(l => Seen(l.Text, sheets.IsProportional)),
            ];
            read = [.. read.Select(l => IsHeaderOrFooter(l, sheets) ? l.Trim() : l)];
            // What is in front of every line is a margin.
            string[] laid = [.. printed.Where(l => !IsHeaderOrFooter(l, sheets))];
            int margin = laid.Min(l => l.Length - l.TrimStart().Length);
            printed = [.. printed.Select(l => IsHeaderOrFooter(l, sheets) ? l : l[margin..])];
            int at = 0;
            while (at < Math.Min(read.Length, printed.Length) && read[at] == printed[at])
                at++;
            if (at < read.Length || at < printed.Length)
                faults.Add(
                    $"{damage}: line {at} of {printed.Length}/{read.Length}\n  printed |{printed.ElementAtOrDefault(at)}|\n  read    |{read.ElementAtOrDefault(at)}|"
                );
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [Fact]
    public void Every_kind_of_damage_does_something()
    {
        string whole = Sheets.Of(Source, DamageKind.None).Pasted();
        Assert.Equal(Source.ReplaceLineEndings("\n"), whole);
        foreach (DamageKind damage in Enum.GetValues<DamageKind>())
        {
            Sheets sheets = Sheets.Of(Source, damage);
            Assert.Equal(sheets.Lines.Count(), sheets.PagesOfLines().Length);
            if (damage is DamageKind.None)
                continue;
            bool looksOther =
                sheets.IsProportional
                || !sheets.Pages.SequenceEqual(
                    Sheets.Of(Source, DamageKind.None).Pages,
                    EqualityComparer<System.Collections.Immutable.ImmutableArray<System.Collections.Immutable.ImmutableArray<string>>>.Create(
                        (a, b) => a.SelectMany(x => x).SequenceEqual(b.SelectMany(x => x)),
                        _ => 0
                    )
                );
            Assert.True(looksOther || damage == DamageKind.HeadersAndFooters, damage.ToString());
            if (damage == DamageKind.HeadersAndFooters)
                Assert.Contains("Page 1 of 3", sheets.Lines);
        }
    }

    // Blanks of other kinds look the same; in a proportional font only the words are certain.
    private static string Seen(string line, bool proportional)
    {
        // Some fonts have no joined letters, and a producer writes two.
        line = line.Replace('\u00A0', ' ')
            .Replace("\uFB01", "fi", StringComparison.Ordinal)
            .Replace("\uFB02", "fl", StringComparison.Ordinal)
            .TrimEnd();
        return proportional ? LineDamage.LostBlanks(line) : line;
    }

    // Headers and footers are where they are on paper: their own blanks in front are no part of what was laid out.
    private static bool IsHeaderOrFooter(string line, Sheets sheets) =>
        line.Trim() is { Length: > 0 } text && (sheets.Headers.Contains(text) || sheets.Footers.Contains(text));
}
