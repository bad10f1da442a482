using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>A listing that was found in a document.</summary>
/// <param name="Number">Its number, from 1, in the order of the document.</param>
/// <param name="FirstPage">The page of its first line, from 1.</param>
/// <param name="LastPage">The page of its last line.</param>
/// <param name="Lines">How many printed lines it has.</param>
/// <param name="CodeLines">How many of them are code beyond doubt.</param>
/// <param name="Chip">The chip that it names, or null.</param>
/// <param name="FirstLines">Its first lines with words in them, as printed; three at most.</param>
public sealed record FoundListing(
    int Number,
    int FirstPage,
    int LastPage,
    int Lines,
    int CodeLines,
    string? Chip,
    ImmutableArray<string> FirstLines
)
{
    /// <summary>Whether its last line ends a program.</summary>
    internal bool HasEnd { get; init; }

    /// <summary>Its place and length in words: <c>pages 4 to 6, 120 lines</c>; a paste has no pages.</summary>
    public string Place =>
        FirstPage == 0
            ? string.Create(CultureInfo.InvariantCulture, $"{Lines} lines")
            : string.Create(
                CultureInfo.InvariantCulture,
                $"{(FirstPage == LastPage ? $"page {FirstPage}" : $"pages {FirstPage} to {LastPage}")}, {Lines} lines"
            );
}

/// <summary>Names the listings of a document, so that a person can choose.</summary>
public static class DocumentListings
{
    private const int MostFirstLines = 3;

    /// <summary>The listings in the order of the document.</summary>
    /// <param name="document">The document.</param>
    /// <param name="pages">The pages to look at, from 1; empty for all.</param>
    public static ImmutableArray<FoundListing> Find(PrintedDocument document, ImmutableHashSet<int>? pages = null)
    {
        ArgumentNullException.ThrowIfNull(document);
        PrintedPage[] wanted =
        [
            .. document.Pages.Where(p => pages is null || pages.IsEmpty || pages.Contains(p.Number)),
        ];
        return Describe(new ListingFinder(wanted).Find());
    }

    internal static ImmutableArray<FoundListing> Describe(List<Listing> listings) =>
        [
            .. listings.Select(
                static (l, i) =>
                    new FoundListing(
                        i + 1,
                        l.FirstPage,
                        l.LastPage,
                        l.Lines.Count,
                        l.CodeLines,
                        ChipOf(l),
                        FirstLines(l)
                    )
                    {
                        HasEnd = AssemblyLook.IsEnd(l.Lines[^1].Text),
                    }
            ),
        ];

    /// <summary>
    /// The listings that are programs for different chips, one as good as the other; empty where there is one program at most, and what else is
    /// printed is a part of one, such as another head for another chip.
    /// </summary>
    internal static ImmutableArray<FoundListing> Rivals(ImmutableArray<FoundListing> listings)
    {
        if (listings.Length < 2)
            return [];
        int longest = listings.Max(static l => l.CodeLines);
        ImmutableArray<FoundListing> programs =
        [
            .. listings.Where(l => l.Chip is not null && (l.HasEnd || l.CodeLines * 4 >= longest)),
        ];
        return programs.DistinctBy(static l => l.Chip).Count() > 1 ? programs : [];
    }

    private static ImmutableArray<string> FirstLines(Listing listing) =>
        [
            .. listing
                .Lines.Select(static l => l.Text.Trim())
                .Where(static t => t.Any(char.IsLetterOrDigit))
                .Take(MostFirstLines),
        ];

    private static string? ChipOf(Listing listing)
    {
        foreach (PrintedLine line in listing.Lines)
            if (ChipOf(AssemblyLook.Plain(line.Text)) is { } chip)
                return chip;
        return null;
    }

    // 'list p=16f84a', 'processor 16f84a' and 'include <p16f84a.inc>', whatever stands in front.
    private static string? ChipOf(string text)
    {
        int comment = text.IndexOf(';', StringComparison.Ordinal);
        string[] words = (comment < 0 ? text : text[..comment]).Split(
            (char[])[' ', '\t'],
            StringSplitOptions.RemoveEmptyEntries
        );
        for (int i = 0; i + 1 < words.Length; i++)
        {
            string rest = string.Concat(words[(i + 1)..]);
            switch (OperationWords.KeywordOf(words[i]))
            {
                case Keyword.List:
                    string? chip = rest.Split(',')
                        .FirstOrDefault(static p => p.StartsWith("p=", StringComparison.OrdinalIgnoreCase));
                    return chip is null ? null : DeviceCatalog.Find(chip[2..])?.Name;
                case Keyword.Processor:
                    return DeviceCatalog.Find(rest)?.Name;
                case Keyword.Include:
                    return DeviceCatalog.IsHeaderName(rest.Trim('<', '>', '"'), out string device)
                        ? DeviceCatalog.Find(device)?.Name
                        : null;
            }
        }

        return null;
    }
}
