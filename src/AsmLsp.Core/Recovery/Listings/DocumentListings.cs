using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

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
    /// <summary>Whether it is a program from its head to its <c>end</c>, and no piece of one.</summary>
    public bool IsWhole { get; init; }

    /// <summary>Whether it has the head of a program: it names the chip, the configuration or the first address.</summary>
    internal bool HasHead { get; init; }

    /// <summary>The name of the file that it is, where programs of the document include it; null for a program or a piece of one.</summary>
    public string? FileName { get; init; }

    /// <summary>The names that it uses and that neither it nor its chip defines.</summary>
    public ImmutableArray<string> Lacking { get; init; } = [];

    /// <summary>The pages of the same listing where it is printed again.</summary>
    public ImmutableArray<string> Again { get; init; } = [];

    /// <summary>The number of an earlier listing that it is printed like, but for a few lines; null where there is none.</summary>
    public int? Like { get; init; }

    /// <summary>The lines at which it differs from that one, in words.</summary>
    public ImmutableArray<string> Differences { get; init; } = [];

    /// <summary>The pages that it is on, such as <c>pages 4-6, 8</c>; empty for a paste without pages.</summary>
    public string Pages { get; init; } = "";

    /// <summary>Its place and length in words: <c>pages 4-6, 120 lines</c>; a paste has no pages.</summary>
    public string Place =>
        string.Create(CultureInfo.InvariantCulture, $"{(Pages.Length > 0 ? Pages + ", " : "")}{Lines} lines");
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
        return Describe(FoundDocument.Of(document, pages ?? []).Candidates);
    }

    internal static ImmutableArray<FoundListing> Describe(List<Listing> listings) =>
        [
            .. listings.Select(
                (l, i) =>
                    WithCopy(
                        listings,
                        i,
                        new FoundListing(
                            i + 1,
                            l.FirstPage,
                            l.LastPage,
                            l.Lines.Count,
                            l.CodeLines,
                            l.Chip,
                            FirstLines(l)
                        )
                        {
                            IsWhole = l.IsWhole,
                            HasHead = l.Names.HasHead,
                            FileName = l.FileName,
                            Lacking = [.. l.Lacking.Where(n => !IsIncluded(l, n, listings, []))],
                            Pages = PagesOf(l),
                            Again = [.. l.Copies.Select(PagesOf)],
                        }
                    )
            ),
        ];

    private static FoundListing WithCopy(List<Listing> listings, int index, FoundListing found)
    {
        int like = NearCopies.FirstLike(listings, index);
        return like < 0
            ? found
            : found with
            {
                Like = like + 1,
                Differences =
                [
                    .. NearCopies
                        .Between(listings[index], listings[like])
                        .Select(static d =>
                            d.Here.Length == 0 ? $"'{d.There}' is missing"
                            : d.There.Length == 0 ? $"'{d.Here}' is added"
                            : $"'{d.Here}' replaces '{d.There}'"
                        ),
                ],
            };
    }

    // Whether a printed file that the listing includes defines a name, or one that such a file includes.
    private static bool IsIncluded(Listing listing, string name, List<Listing> listings, HashSet<Listing> seen) =>
        listings.Exists(f =>
            f.FileName is { } file
            && listing.Names.Included.Contains(file)
            && seen.Add(f)
            && (f.Names.Defines(name) || IsIncluded(f, name, listings, seen))
        );

    /// <summary>
    /// The programs that a person has to choose from: those that are whole, or, for different chips, as long as the others; empty where there is one at
    /// most, and what else is printed is a part of one, such as another head for another chip.
    /// </summary>
    internal static ImmutableArray<FoundListing> Rivals(ImmutableArray<FoundListing> listings)
    {
        listings = listings.RemoveAll(static l => l.FileName is not null);
        if (listings.Length < 2)
            return [];
        int longest = listings.Max(static l => l.CodeLines);
        ImmutableArray<FoundListing> programs =
        [
            .. listings.Where(l => l.IsWhole || ((l.Chip is not null || l.HasHead) && l.CodeLines * 4 >= longest)),
        ];
        return
            programs.Count(static l => l.IsWhole) > 1
            // A program that lost its end is not less meant than a shorter one that has it.
            || IsLongerWithoutEnd(listings)
            || programs.DistinctBy(static l => l.Chip).Count(static l => l.Chip is not null) > 1
            ? programs
            : [];
    }

    private static bool IsLongerWithoutEnd(ImmutableArray<FoundListing> listings)
    {
        int whole = listings.Where(static l => l.IsWhole).Select(static l => l.CodeLines).DefaultIfEmpty().Max();
        return whole > 0 && listings.Any(l => !l.IsWhole && l.HasHead && l.CodeLines >= whole);
    }

    private static string PagesOf(Listing listing) =>
        listing.FirstPage == 0 ? "" : InWords([.. listing.Lines.Select(static l => l.Page).Distinct()]);

    /// <summary>Pages in words: <c>page 4</c>, <c>pages 4-6, 9</c>.</summary>
    internal static string InWords(IReadOnlyCollection<int> pages) =>
        $"{(pages.Count == 1 ? "page" : "pages")} {NumberRanges.Of(pages)}";

    private static ImmutableArray<string> FirstLines(Listing listing) =>
        [
            .. listing
                .Lines.Select(static l => l.Text.Trim())
                .Where(static t => t.Any(char.IsLetterOrDigit))
                .Take(MostFirstLines),
        ];

    internal static string? ChipOf(Listing listing)
    {
        foreach (string text in listing.Texts)
            if (ChipOf(AssemblyLook.Plain(text)) is { } chip)
                return chip;
        return null;
    }

    // 'list p=16f84a', 'processor 16f84a' and 'include <p16f84a.inc>', whatever is in front.
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
