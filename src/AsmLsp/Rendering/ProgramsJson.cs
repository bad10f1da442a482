using System.Collections.Immutable;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Recovering;

namespace AsmLsp.Rendering;

/// <summary>The programs of a document, for scripts.</summary>
internal static class ProgramsJson
{
    /// <summary>A list with one object a program; docs/schemas/programs.json describes it.</summary>
    public static string Of(IEnumerable<(FoundListing Listing, RecoveryResult Result)> programs) =>
        JsonText.Write(json =>
        {
            json.WriteStartArray();
            foreach ((FoundListing listing, RecoveryResult result) in programs)
            {
                json.WriteStartObject();
                json.WriteNumber("number", listing.Number);
                json.WriteString("place", listing.Place);
                json.WriteNumber("words", result.Program.Image.ProgramWords);
                json.WriteString("chip", result.Program.Device?.Name ?? listing.Chip);
                json.WriteString("fileName", listing.FileName);
                ImmutableArray<string> missing = listing.FileName is null ? ProgramTable.Missing(listing, result) : [];
                json.WriteBoolean("whole", listing.IsWhole);
                json.WriteBoolean("complete", missing.IsEmpty && !ProgramTable.IsTorn(result));
                JsonText.Texts(json, "undefined", missing);
                JsonText.Number(json, "like", listing.Like);
                JsonText.Texts(json, "differences", listing.Differences);
                JsonText.Texts(json, "firstLines", listing.FirstLines);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        });
}
