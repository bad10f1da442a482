using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Recovery;

/// <summary>
/// Chooses the listing that is recovered. Nothing is chosen for a person where a document holds several programs, or nothing but examples: the report names
/// them, and a number takes one.
/// </summary>
internal static class ListingChoice
{
    // Pieces of which none has half of the code are examples of a text.
    private const int LeastExamples = 3;

    /// <summary>The listing, or null where there is none or a person has to choose; the report says why.</summary>
    public static Listing? Of(List<Listing> listings, DocumentRecoveryOptions options, DocumentReport report)
    {
        if (listings.Count == 0)
        {
            report.Add(
                Severity.Error,
                DocumentCodes.NoListing,
                "No program was found on these pages: no run of lines that read as instructions. If there is one, name its pages.",
                null
            );
            return null;
        }

        ImmutableArray<FoundListing> all = DocumentListings.Describe(listings);
        if (options.Listing is { } number)
        {
            if (number >= 1 && number <= listings.Count)
                return listings[number - 1];
            report.Add(
                Severity.Error,
                DocumentCodes.NoListing,
                $"There is no listing {number}: {listings.Count} found ({Describe(all)}).",
                null
            );
            return null;
        }

        // A file that programs include is no program, unless there is nothing else.
        ImmutableArray<FoundListing> found = all.RemoveAll(static l => l.FileName is not null);
        if (found.IsEmpty)
            found = all;
        List<Listing> programs = [.. found.Select(l => listings[l.Number - 1])];
        if (DocumentListings.Rivals(found) is { Length: > 0 } rivals)
        {
            report.Add(
                Severity.Error,
                DocumentCodes.SeveralListings,
                $"{rivals.Length} programs are printed here: {Describe(rivals)}. Choose one by its number, or name its pages.",
                rivals[0].FirstPage
            );
            return null;
        }

        if (programs.Count == 1)
            return programs[0];
        if (programs.Find(static l => l.IsWhole) is { } whole)
        {
            report.Add(
                Severity.Information,
                DocumentCodes.SeveralListings,
                $"Listing {listings.IndexOf(whole) + 1} was taken: of {programs.Count} it is the one whole program. The others are pieces ({Describe(found)}).",
                whole.FirstPage
            );
            return whole;
        }

        Listing longest = programs.MaxBy(static l => l.CodeLines)!;
        if (programs.Count >= LeastExamples && longest.CodeLines * 2 < programs.Sum(static l => l.CodeLines))
        {
            report.Add(
                Severity.Error,
                DocumentCodes.SeveralListings,
                $"No whole program is printed here, but {programs.Count} examples: {Describe(found)}. Choose one by its number, or name its pages.",
                found[0].FirstPage
            );
            return null;
        }

        report.Add(
            Severity.Warning,
            DocumentCodes.SeveralListings,
            $"{programs.Count} listings were found ({Describe(found)}); listing {listings.IndexOf(longest) + 1} was taken, the longest. Choose another one by its number, or name the pages.",
            longest.FirstPage,
            new Doubt("is this the listing that is meant? The document holds several")
        );
        return longest;
    }

    /// <summary>Reports each line that another print of the chosen program has otherwise: one of the two may be a misprint.</summary>
    public static void ReportCopies(List<Listing> listings, Listing chosen, DocumentReport report)
    {
        for (int i = 0; i < listings.Count; i++)
        {
            Listing other = listings[i];
            if (other == chosen || !NearCopies.IsNear(chosen, other))
                continue;
            string place =
                other.FirstPage == 0
                    ? string.Create(CultureInfo.InvariantCulture, $"listing {i + 1}")
                    : DocumentListings.InWords([.. other.Lines.Select(static l => l.Page).Distinct()]);
            foreach (
                IGrouping<int, PrintDifference> row in NearCopies.Between(chosen, other).GroupBy(static d => d.Row)
            )
            {
                string there = string.Join("' and '", row.Select(static d => d.There).Where(static t => t.Length > 0)),
                    what = there.Length == 0 ? "does not have this line"
                    : row.Any(static d => d.Here.Length > 0) ? $"has '{there}' instead of this line"
                    : $"has '{there}' below this line";
                report.AddAt(
                    chosen.Lines[row.Key],
                    DocumentCodes.SeveralListings,
                    $"The program is printed again on {place}, and that print {what}. Compare the two.",
                    Severity.Warning,
                    new Doubt($"the print on {place} {what}")
                    {
                        Kind = DoubtKind.Other,
                        Evidence = DocumentCodes.SeveralListings,
                    }
                );
            }
        }
    }

    private static string Describe(ImmutableArray<FoundListing> listings)
    {
        const int most = 12;
        string each = string.Join(
            "; ",
            listings
                .Take(most)
                .Select(static l =>
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"listing {l.Number}{(l.Chip is { } chip ? $" for the {chip}" : "")} ({l.Place})"
                    )
                )
        );
        return listings.Length > most
            ? string.Create(CultureInfo.InvariantCulture, $"{each}; {listings.Length - most} more")
            : each;
    }
}
