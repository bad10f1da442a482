using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Host.Recovering;
using AsmLsp.Rendering;

namespace AsmLsp.Recovering;

/// <summary>Reads a document or a paste and recovers its program; says where that cannot be done, and gives null.</summary>
internal static class RecoverInput
{
    /// <summary>The document of a request with what is recovered from it.</summary>
    public static RecoveredDocument? Recover(RecoverRequest request, TextWriter error, CancellationToken stop)
    {
        if (!HexInput.TryChip(request.Chip, error, out _))
            return null;

        DocumentRequest wanted = Wanted(request);
        if (request.Input == Sources.Standard)
        {
            byte[] bytes;
            string? fault;
            using (Waiting.On(error, $"Reading {request.InputName}"))
                fault = StandardInput.Read(DocumentRecoverer.MostBytesOf, out bytes);
            if (fault is not null)
            {
                error.WriteLine($"relist: {fault}");
                return null;
            }

            wanted = wanted with { Bytes = bytes };
        }

        try
        {
            RecoveryOutcome outcome;
            using (Waiting.On(error, $"Reading {request.InputName}"))
                outcome = DocumentRecoverer.Recover(wanted, stop);
            foreach (string note in outcome.Notes)
                error.WriteLine($"relist: {note}");
            if (outcome.Failure is { } failure)
                error.WriteLine(
                    $"relist: {failure.Replace(Path.GetFullPath(request.Input), request.Input, StringComparison.Ordinal)}"
                );
            return outcome.Document;
        }
        catch (OperationCanceledException)
        {
            error.WriteLine("relist: stopped; nothing is written.");
            return null;
        }
    }

    /// <summary>Writes the programs of a document, each with its place, size, chip and first lines; gives the exit code.</summary>
    public static int List(RecoverRequest request, TextWriter output, TextWriter error, CancellationToken stop)
    {
        // A paste, and a document with one program, are recovered anyway: that counts the words.
        if (Recover(request with { Listing = 1 }, error, stop) is not { } first)
            return ExitCodes.Unusable;
        ImmutableArray<FoundListing> listings =
            ProgramTable.Of(request, first) is { IsEmpty: false } found ? found
            : first.Printed is not null || first.Result.Program.Image.Count == 0 ? []
            :
            [
                new FoundListing(
                    1,
                    0,
                    0,
                    first.Pasted!.LineCount,
                    0,
                    null,
                    [
                        .. first
                            .Pasted.Lines.Select(static l => l.Text.Trim())
                            .Where(static t => t.Any(char.IsLetterOrDigit))
                            .Take(3),
                    ]
                ),
            ];
        if (listings.IsEmpty)
        {
            error.WriteLine($"relist: no assembly program is found in {first.Name}.");
            return ExitCodes.Unusable;
        }

        (FoundListing Listing, RecoveryResult Result)[] programs =
        [
            .. listings.Select(listing =>
                (
                    listing,
                    listing.Number == 1
                        ? first.Result
                        : DocumentRecoverer.Another(Wanted(request) with { Listing = listing.Number }, first)
                )
            ),
        ];
        if (request.IsJson)
        {
            VisibleWriter.Data(output).Write(ProgramsJson.Of(programs));
            return ExitCodes.Clean;
        }

        output.WriteLine($"{first.Name}: {ProgramTable.Count(listings)}");
        foreach ((FoundListing listing, RecoveryResult result) in programs)
        {
            output.WriteLine(ProgramTable.Line(listing, result));
            foreach (string line in listing.FirstLines)
                output.WriteLine("     " + line);
        }

        if (listings.Length > 1)
            error.WriteLine($"Recover one of them: {ProgramTable.Command(request, listings[0])}");
        return ExitCodes.Clean;
    }

    private static DocumentRequest Wanted(RecoverRequest request) =>
        new(Path.GetFullPath(request.Input == Sources.Standard ? request.InputName : request.Input))
        {
            Name = request.InputName,
            Pages = request.Pages,
            Listing = request.Listing,
            KeepProse = request.KeepProse,
            Assembly = new AssemblyOptions { Chip = request.Chip },
            Includes = request.Includes,
            Reader = () => DocumentReaders.For(request.Pages),
        };
}
