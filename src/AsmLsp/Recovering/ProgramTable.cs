using System.Buffers;
using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Host.Recovering;

namespace AsmLsp.Recovering;

/// <summary>The programs of a document in words: what <c>--programs</c> shows, and what a choice is made from.</summary>
internal static class ProgramTable
{
    private static readonly SearchValues<char> NeedQuotes = SearchValues.Create(" '\"()&;$");

    // As many names without a definition as a line has room for.
    private const int MostNames = 4;

    // As many lines that differ.
    private const int MostDifferences = 4;

    /// <summary>The programs of a document, in its order; empty where it has none.</summary>
    public static ImmutableArray<FoundListing> Of(RecoverRequest request, RecoveredDocument document)
    {
        PrintedDocument printed = document.Printed ?? PasteRecovery.Lay(document.Pasted!).Document;
        return DocumentListings.Find(printed, document.Printed is null ? [] : request.Pages);
    }

    /// <summary>How many of them are programs, and how many are pieces.</summary>
    public static string Count(ImmutableArray<FoundListing> listings)
    {
        int programs = listings.Count(static l => l.IsWhole),
            files = listings.Count(static l => l.FileName is not null),
            pieces = listings.Length - programs - files;
        string[] parts =
        [
            programs == 0 ? "" : Several(programs, "whole program", "whole programs"),
            pieces == 0 ? "" : Several(pieces, "fragment", "fragments"),
            files == 0 ? "" : Several(files, "included file", "included files"),
        ];
        return string.Join(", ", parts.Where(static p => p.Length > 0));
    }

    /// <summary>One program in a line: place, size, chip, whole or fragment, complete or not.</summary>
    /// <param name="listing">The program.</param>
    /// <param name="result">What is recovered of it; null where nobody knows yet.</param>
    public static string Line(FoundListing listing, RecoveryResult? result = null)
    {
        string words = result is null
                ? ""
                : string.Create(CultureInfo.InvariantCulture, $", {result.Program.Image.ProgramWords} words"),
            again =
                (listing.Again.IsEmpty ? "" : $"; printed again on {string.Join(" and ", listing.Again)}")
                + Copy(listing);
        if (listing.FileName is { } file)
            return string.Create(
                CultureInfo.InvariantCulture,
                $"{listing.Number}. {listing.Place}, the file {file}, which programs here include{again}"
            );
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{listing.Number}. {listing.Place}{words}, {result?.Program.Device?.Name ?? listing.Chip ?? "no chip named"}, {(listing.IsWhole ? "whole program" : "fragment")}, {Completeness(listing, result)}{again}"
        );
    }

    /// <summary>The command that recovers one of the programs, to be typed as it is.</summary>
    public static string Command(RecoverRequest request, FoundListing listing)
    {
        string output =
            request.Output is { } path && path != Sources.Standard
                ? path
                : string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Path.GetFileNameWithoutExtension(request.InputName)}-{listing.Number}.asm"
                );
        return Command(request with { Listing = listing.Number }, output);
    }

    /// <summary>The command of a request with another output, to be typed as it is.</summary>
    public static string Command(RecoverRequest request, string output) =>
        $"relist recover {Quoted(request.Input)}{request.Options}{string.Concat(request.Includes.Select(static f => $" --include {Quoted(f)}"))} -o {Quoted(output)}";

    /// <summary>The names that a program uses and nothing defines.</summary>
    public static ImmutableArray<string> Missing(FoundListing listing, RecoveryResult? result) =>
        result is null
            ? listing.Lacking
            :
            [
                .. result
                    .Program.Problems.Where(static p => p.Kind == Catalogue.UndefinedName)
                    .Select(static p => p.Arguments[0])
                    .Distinct(StringComparer.OrdinalIgnoreCase),
            ];

    /// <summary>Whether lines or pages are known to be missing from a program.</summary>
    public static bool IsTorn(RecoveryResult? result) =>
        result?.Entries.Any(static e =>
            e.Severity != Severity.Information
            && e.Code is DocumentCodes.MissingLines or DocumentCodes.MissingPage or DocumentCodes.UnreadPage
        ) == true;

    private static string Completeness(FoundListing listing, RecoveryResult? result)
    {
        ImmutableArray<string> missing = Missing(listing, result);
        if (missing.IsEmpty)
            return IsTorn(result) ? "lines are missing" : "complete";
        string names = string.Join(", ", missing.Take(MostNames)),
            more = missing.Length > MostNames
                ? string.Create(CultureInfo.InvariantCulture, $" and {missing.Length - MostNames} more")
                : "";
        return $"not complete: {names}{more} not defined";
    }

    // Where it is printed like another one, but for a few lines.
    private static string Copy(FoundListing listing)
    {
        if (listing.Like is not { } number)
            return "";
        int more = listing.Differences.Length - MostDifferences;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"; like {number}, but for {Several(listing.Differences.Length, "line", "lines")}: {string.Join(", ", listing.Differences.Take(MostDifferences))}{(more > 0 ? $" and {more} more" : "")}"
        );
    }

    private static string Several(int count, string one, string many) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many)}");

    /// <summary>A path as an argument of a command.</summary>
    public static string Quoted(string path) =>
        path.AsSpan().IndexOfAny(NeedQuotes) < 0 ? path : $"\"{path.Replace("\"", "\\\"", StringComparison.Ordinal)}\"";
}
