using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Document;

/// <summary>Pages that lie in another order than they were printed in.</summary>
public class PageSequenceTests
{
    private static readonly string[] Program =
    [
        "        list    p=16f84a",
        "        __config 0x3ff1",
        "count   equ     0x0c",
        "        org     0",
        .. Enumerable
            .Range(0, 24)
            .SelectMany(static i =>
                (string[])
                    [
                        $"step{i:00}  movlw   0x{i + 16:x2}",
                        "        movwf   count",
                        $"        goto    step{(i + 5) % 24:00}",
                    ]
            ),
        "        end",
    ];

    private static string[] Pages(Func<string, int, string> row, Func<int, string> foot) =>
        [.. Program.Select(row).Chunk(20).Select((lines, i) => string.Join('\n', [.. lines, foot(i + 1)]))];

    private static string[] Numbered => Pages(static (l, i) => $"{i + 1, 3}  {l}", static _ => "");

    private static string[] Footed => Pages(static (l, _) => l, static page => $"|{page + 40}");

    private static string[] InOrder(string[] pages, params int[] order) => [.. order.Select(i => pages[i])];

    private static string Code(RecoveryResult result) =>
        string.Join('\n', result.Source.Lines.Select(static l => l.Text.Trim()).Where(static l => l.Length > 0));

    private static readonly string Right = string.Join('\n', Program.Select(static l => l.Trim()));

    [Theory]
    [InlineData(0, 2, 1, 3)]
    [InlineData(3, 1, 0, 2)]
    [InlineData(3, 2, 1, 0)]
    public void They_are_read_in_the_order_that_their_numbers_prove(int a, int b, int c, int d)
    {
        foreach (string[] pages in (string[][])[Numbered, Footed])
        {
            int[] order = [a, b, c, d];
            RecoveryResult result = PrintedPages.Recover(InOrder(pages, order));
            Assert.Equal(Right, Code(result));
            Assert.True(result.IsClean, string.Join('\n', result.Entries));
            RecoveryEntry entry = Assert.Single(result.Entries, static e => e.Code == DocumentCodes.PageOrder);
            Assert.Equal(Severity.Information, entry.Severity);
            string read = string.Join(", ", Enumerable.Range(0, 4).Select(i => Array.IndexOf(order, i) + 1));
            Assert.Contains($"in the order {read}.", entry.Message, StringComparison.Ordinal);
            // A line keeps the page of the document that it is on.
            Assert.Equal(Array.IndexOf(order, 0) + 1, result.Origins[0].Page);
        }
    }

    [Fact]
    public void Pages_in_order_are_left_alone()
    {
        foreach (string[] pages in (string[][])[Numbered, Footed])
            Assert.DoesNotContain(PrintedPages.Recover(pages).Entries, static e => e.Code == DocumentCodes.PageOrder);
    }

    [Fact]
    public void Page_that_is_missing_besides_is_reported_where_it_belongs()
    {
        RecoveryResult result = PrintedPages.Recover(InOrder(Footed, 3, 0, 1));
        RecoveryEntry missing = Assert.Single(result.Entries, static e => e.Code == DocumentCodes.MissingPage);
        Assert.Contains("printed page 43", missing.Message, StringComparison.Ordinal);
        Assert.Equal(1, result.Origins[missing.Line].Page);
        Assert.StartsWith(string.Join('\n', Right.Split('\n')[..40]), Code(result), StringComparison.Ordinal);
    }

    [Fact]
    public void Page_that_is_there_twice_leaves_the_order_as_it_is_and_is_reported()
    {
        RecoveryResult result = PrintedPages.Recover(InOrder(Footed, 0, 2, 2, 1, 3));
        Assert.DoesNotContain(
            result.Entries,
            static e => e.Code == DocumentCodes.PageOrder && e.Severity == Severity.Information
        );
        Assert.Contains(
            result.Entries,
            static e => e.Code == DocumentCodes.PageOrder && e.Severity == Severity.Warning
        );
    }

    [Fact]
    public void Numbers_that_contradict_each_other_prove_nothing()
    {
        string[] pages = Pages(static (l, i) => $"{i + 1, 3}  {l}", static page => $"|{page + 40}");
        string[] contradicting =
        [
            .. InOrder(pages, 0, 2, 1, 3)
                .Select((p, i) => p[..p.LastIndexOf('|')] + $"|{((int[])[43, 41, 42, 44])[i]}"),
        ];
        RecoveryResult result = PrintedPages.Recover(contradicting);
        Assert.DoesNotContain(
            result.Entries,
            static e => e.Code == DocumentCodes.PageOrder && e.Severity == Severity.Information
        );
        Assert.False(result.IsClean);
    }
}
