using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Document;
using AsmLsp.Core.Recovery.Printed;
using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Scans;
using AsmLsp.Pdf;

namespace AsmLsp.Recovering;

/// <summary>Reads a document or a paste and recovers its program; tells in words where that cannot be done, and gives null.</summary>
internal static class RecoverInput
{
    // A thousand printed pages of a hundred lines have less.
    private const int MostTextBytes = 2 * 1024 * 1024;

    /// <summary>The document of a request with what is recovered from it.</summary>
    public static RecoveredDocument? Recover(RecoverRequest request, TextWriter error, CancellationToken stop)
    {
        if (!TryRead(request.Input, error, out byte[] bytes))
            return null;
        string path =
            request.Input == Sources.Standard ? Path.GetFullPath(request.InputName) : Path.GetFullPath(request.Input);
        if (bytes.Length == 0)
        {
            error.WriteLine(
                $"relist: {(request.Input == Sources.Standard ? "standard input" : request.Input)} is empty (0 bytes). Copy or download it again. Nothing is written."
            );
            return null;
        }

        if (Options(path, request, error) is not { } options)
            return null;
        var wanted = new DocumentRecoveryOptions
        {
            Text = options,
            Pages = request.Pages,
            Listing = request.Listing,
            KeepProse = request.KeepProse,
        };
        if (DocumentFile.KindOf(bytes) != DocumentFileKind.Text)
        {
            if (ReadDocument(bytes, request, error, stop) is not { } document)
                return null;
            return new RecoveredDocument(
                request.InputName,
                bytes,
                document,
                null,
                DocumentRecovery.Run(document, wanted)
            );
        }

        return ReadText(path, bytes, error) is { } text
            ? new RecoveredDocument(request.InputName, bytes, null, text, PasteRecovery.Run(text, wanted))
            : null;
    }

    /// <summary>Writes the listings of a document, each with its place, size, chip and first lines; gives the exit code.</summary>
    public static int List(RecoverRequest request, TextWriter output, TextWriter error, CancellationToken stop)
    {
        // A paste, and a document with one program, are recovered anyway: that counts the words.
        if (Recover(request with { Listing = 1 }, error, stop) is not { } first)
            return ExitCodes.Unusable;
        PrintedDocument document = first.Printed ?? PastedText.Lay(first.Pasted!).Document;
        ImmutableArray<FoundListing> listings =
            DocumentListings.Find(document, first.Printed is null ? [] : request.Pages) is { IsEmpty: false } found
                ? found
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

        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{first.Name}: {listings.Length} {(listings.Length == 1 ? "listing" : "listings")}"
            )
        );
        foreach (FoundListing listing in listings)
        {
            var wanted = new DocumentRecoveryOptions
            {
                Text = Options(Path.GetFullPath(request.InputName), request, error)!,
                Pages = request.Pages,
                Listing = listing.Number,
            };
            RecoveryResult result =
                listing.Number == 1 ? first.Result
                : first.Printed is { } printed ? DocumentRecovery.Run(printed, wanted)
                : PasteRecovery.Run(first.Pasted!, wanted);
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{listing.Number}. {listing.Place}, {result.Program.Image.ProgramWords} words, {result.Program.Device?.Name ?? listing.Chip ?? "no chip named"}"
                )
            );
            foreach (string line in listing.FirstLines)
                output.WriteLine("     " + line);
        }

        if (listings.Length > 1)
            error.WriteLine("Recover one of them with --listing N.");
        return ExitCodes.Clean;
    }

    private static bool TryRead(string input, TextWriter error, out byte[] bytes)
    {
        if (input == Sources.Standard)
        {
            using Stream stream = Console.OpenStandardInput();
            using var all = new MemoryStream();
            stream.CopyTo(all);
            bytes = all.ToArray();
            return true;
        }

        if (FileLoader.ReadBytes(input, ReadingLimits.Default.FileBytes, out bytes) is not { } failure)
            return true;
        error.WriteLine($"relist: {failure.Message}");
        return false;
    }

    private static RecoveryOptions? Options(string path, RecoverRequest request, TextWriter error)
    {
        var search = new IncludeSearch([], [.. request.Includes.Select(Path.GetFullPath)], DiskView.Instance);
        if (request.Chip is not null && Core.Devices.DeviceCatalog.Find(request.Chip) is null)
        {
            error.WriteLine(
                $"relist: no chip called {request.Chip} is known here. 'relist chips' lists those that are."
            );
            return null;
        }

        return new RecoveryOptions
        {
            Name = path,
            Includes = new IncludeResolver(search, new FileLoader()),
            Assembly = new AssemblyOptions { Chip = request.Chip },
        };
    }

    private static PrintedDocument? ReadDocument(
        byte[] bytes,
        RecoverRequest request,
        TextWriter error,
        CancellationToken stop
    )
    {
        try
        {
            if (
                new RecognizingReader(new PdfReader(), new ScanRecognizer(), request.Pages)
                    .Read(bytes, stop)
                    .TryGet(out PrintedDocument? document, out PrintedFailure? failure)
            )
                return document;
            error.WriteLine($"relist: {failure.Message}");
        }
        catch (OperationCanceledException)
        {
            error.WriteLine("relist: stopped; nothing is written.");
        }

        return null;
    }

    private static SourceText? ReadText(string path, byte[] bytes, TextWriter error)
    {
        if (bytes.Length > MostTextBytes)
        {
            error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"relist: {Path.GetFileName(path)} is {bytes.Length / (1024.0 * 1024.0):0.#} MB long; pasted text is recovered up to {MostTextBytes / (1024 * 1024)} MB, many times the longest printed listing."
                )
            );
            return null;
        }

        if (!new FileLoader().Decode(path, bytes).TryGet(out LoadedFile? file, out LoadFailure? failure))
        {
            error.WriteLine($"relist: {failure.Message}");
            return null;
        }

        if (file.Note is { } note)
            error.WriteLine($"relist: {note}");
        // What is written ends with a line end, as every document does.
        string content = file.Text.ToString();
        SourceText text =
            content.Length > 0 && content[^1] is not ('\n' or '\r') ? SourceText.From(content + "\n") : file.Text;
        return text.WithEncoding(TextEncoding.Utf8);
    }
}
