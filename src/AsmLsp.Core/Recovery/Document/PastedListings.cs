using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>
/// Recovers a pasted text that may hold programs for several chips, one behind the end of the other: then a person has to choose, as with a
/// printed document.
/// </summary>
public static class PastedListings
{
    private const int LeastCode = 4;

    /// <summary>Recovers the program of a paste, or the one of its programs that is wanted. Where one has to be chosen, the source is empty and the report says so as an error.</summary>
    /// <param name="pasted">The text.</param>
    /// <param name="options">What is known beside it.</param>
    /// <param name="listing">Which of several programs, from 1; null where nobody has chosen.</param>
    public static RecoveryResult Recover(SourceText pasted, RecoveryOptions options, int? listing)
    {
        ArgumentNullException.ThrowIfNull(pasted);
        ArgumentNullException.ThrowIfNull(options);
        ImmutableArray<FoundListing> found = Find(pasted);
        if (found.Length < 2) return TextRecovery.Run(pasted, options);
        if (listing is >= 1 && listing <= found.Length)
        {
            int first = found.Take(listing.Value - 1).Sum(static l => l.Lines), count = found[listing.Value - 1].Lines;
            SourceText part = SourceText.From(string.Concat(Enumerable.Range(first, count).Select(i => pasted[i].Text + "\n")));
            return TextRecovery.Run(part, options with { Origins = [.. Enumerable.Range(first + 1, count).Select(static i => LineOrigin.At(0, i))] });
        }

        int line = 1;
        var each = new List<string>();
        foreach (FoundListing one in found)
        {
            each.Add(string.Create(CultureInfo.InvariantCulture, $"listing {one.Number} for the {one.Chip} (from line {line})"));
            line += one.Lines;
        }

        SourceText empty = SourceText.From("");
        var entry = new RecoveryEntry(0, 0, 0, Severity.Error, DocumentCodes.SeveralListings, $"The text holds programs for different chips: {string.Join("; ", each)}. Choose one by its number.");
        return new RecoveryResult(empty, [entry], Assembler.Assemble(new SourceFile(options.Name, empty), options.Includes, options.Assembly));
    }

    /// <summary>The programs of a paste, one behind the end of the other, where they are for different chips; empty where it is one program.</summary>
    public static ImmutableArray<FoundListing> Find(SourceText pasted)
    {
        ArgumentNullException.ThrowIfNull(pasted);
        var found = ImmutableArray.CreateBuilder<FoundListing>();
        int code = 0, lines = 0;
        string? chip = null;
        var first = new List<string>();
        for (int i = 0; i < pasted.LineCount; i++)
        {
            string text = pasted[i].Text;
            lines++;
            if (AssemblyLook.Of(text) == Look.Code) code++;
            chip ??= DocumentListings.ChipOf(AssemblyLook.Plain(text));
            if (first.Count < 3 && text.Any(char.IsLetterOrDigit)) first.Add(text.Trim());
            if (!AssemblyLook.IsEnd(text)) continue;
            // What is not a program of its own is no choice: an example, text behind the end.
            if (chip is null || code < LeastCode) return found.Count == 0 ? [] : Different(found);
            found.Add(new FoundListing(found.Count + 1, 0, 0, lines, code, chip, [.. first]) { HasEnd = true });
            (code, lines, chip) = (0, 0, null);
            first.Clear();
        }

        return Different(found);
    }

    private static ImmutableArray<FoundListing> Different(ImmutableArray<FoundListing>.Builder found) =>
        found.DistinctBy(static l => l.Chip).Count() > 1 ? found.ToImmutable() : [];
}
