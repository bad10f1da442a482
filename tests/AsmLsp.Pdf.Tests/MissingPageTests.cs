using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Pdf.Tests.Printing;

namespace AsmLsp.Pdf.Tests;

/// <summary>A printed program of which a page is missing, moved or there twice.</summary>
public class MissingPageTests
{
    [Theory]
    [InlineData(DamageKind.LineNumbers, DocumentCodes.MissingLines)]
    [InlineData(DamageKind.HeadersAndFooters, DocumentCodes.MissingPage)]
    public void Page_that_is_missing_is_reported_on_the_line_after_it(DamageKind kind, string code)
    {
        (RecoveryResult result, string firstLine) = Printed(kind, 0, 1, 3, 4, 5);
        RecoveryEntry reported = Assert.Single(result.Entries, e => e.Code == code);
        Assert.Equal((Severity.Warning, 3), (reported.Severity, reported.Page));
        Assert.Equal(
            firstLine,
            DoubtMark
                .Remove(result.Source[reported.Line].Text)
                .Split((char[])[' ', ';'], StringSplitOptions.RemoveEmptyEntries)[0]
        );
        Assert.NotNull(DoubtMark.Find(result.Source[reported.Line].Text));
    }

    [Theory]
    [InlineData(DamageKind.LineNumbers)]
    [InlineData(DamageKind.HeadersAndFooters)]
    public void Pages_in_the_wrong_order_are_put_in_order_with_a_note(DamageKind kind)
    {
        RecoveryResult mixed = Printed(kind, 0, 2, 1, 3, 4, 5).Result;
        Assert.Contains(
            mixed.Entries,
            static e => e is { Code: DocumentCodes.PageOrder, Severity: Severity.Information }
        );
        Assert.Equal(
            Printed(kind, 0, 1, 2, 3, 4, 5).Result.Source.Lines.Select(static l => l.Text),
            mixed.Source.Lines.Select(static l => l.Text)
        );
    }

    [Theory]
    [InlineData(DamageKind.LineNumbers)]
    [InlineData(DamageKind.HeadersAndFooters)]
    public void Page_that_is_printed_twice_is_reported(DamageKind kind) =>
        Assert.Contains(
            Printed(kind, 0, 1, 1, 2, 3, 4, 5).Result.Entries,
            static e => e is { Code: DocumentCodes.PageOrder, Page: 3 }
        );

    [Theory]
    [InlineData(DamageKind.LineNumbers)]
    [InlineData(DamageKind.HeadersAndFooters)]
    public void Whole_document_misses_nothing(DamageKind kind) =>
        Assert.DoesNotContain(
            Printed(kind, 0, 1, 2, 3, 4, 5).Result.Entries,
            e => e.Code is DocumentCodes.MissingLines or DocumentCodes.MissingPage or DocumentCodes.PageOrder
        );

    // The sheets of a program, 24 lines each, in an order; with the first word of the fourth sheet.
    private static (RecoveryResult Result, string FirstLine) Printed(DamageKind kind, params int[] order)
    {
        string source = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "programs", "30-lock.asm"));
        var all = Sheets.Of(source, kind | DamageKind.ShortPages);
        Assert.Equal(6, all.Pages.Length);
        var sheets = new Sheets(
            [.. order.Select(i => all.Pages[i])],
            [.. order.Select(i => all.Headers[i])],
            [.. order.Select(i => all.Footers[i])],
            false
        );
        PrintedReading reading = new PdfReader().Read(Printers.Named("PdfPig").Print(sheets));
        string first = all.Pages[3][0].First(l => l.Trim(" 0123456789".ToCharArray()).Length > 0);
        return (
            DocumentRecovery.Run(reading.Document!),
            first
                .Trim()
                .TrimStart("0123456789".ToCharArray())
                .Split((char[])[' ', ';'], StringSplitOptions.RemoveEmptyEntries)[0]
        );
    }
}
