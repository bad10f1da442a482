using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Host.Archive;
using AsmLsp.Host.Pictures;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Review;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.Rendering;

namespace AsmLsp.Recovering;

/// <summary>Writes what was recovered where the request says, and says what there is to look at.</summary>
internal static class RecoverOutput
{
    /// <summary>Writes the files of a request; gives the exit code.</summary>
    public static int Write(
        RecoverRequest request,
        RecoveredDocument document,
        TextWriter output,
        TextWriter error,
        IEnumerable<string>? included = null,
        CancellationToken stop = default
    )
    {
        RecoveryResult result = document.Result;
        if (result.Program.Image.Count == 0)
        {
            if (result.Entries.Any(static e => e is { Severity: Severity.Error, Code: DocumentCodes.SeveralListings }))
            {
                WriteChoice(request, document, error);
                return ExitCodes.Unusable;
            }

            RecoveryReport.Write(
                error,
                [.. result.Entries.Where(e => e.Severity == Severity.Error).Take(3)],
                document.Name
            );
            error.WriteLine($"relist: no assembly program is found in {document.Name}. Nothing is written.");
            return ExitCodes.Unusable;
        }

        if (request.IsDryRun)
            request = request with { Output = null, Report = null, Review = null, Archive = null, Pictures = null };
        DocumentPictures? pictures = null;
        try
        {
            if (request.Review is not null || request.Archive is not null || request.Pictures is not null)
            {
                using (Waiting.On(error, "Drawing the pictures of printed lines"))
                    pictures = DocumentPictures.Draw(document, cancellation: stop);
            }
        }
        catch (OperationCanceledException)
        {
            error.WriteLine("relist: stopped; nothing is written.");
            return ExitCodes.Unusable;
        }

        PictureFolder? folder =
            request.Pictures is { } named && pictures is not null ? new PictureFolder(named, pictures) : null;
        if (folder is not null && request.Check(included ?? [], folder.Files).Refusal is { } refusal)
        {
            error.WriteLine($"relist: {refusal}");
            return ExitCodes.Unusable;
        }

        if (pictures?.Note is { } note)
            error.WriteLine($"relist: {note}");
        if (folder?.Write() is { } unwritten)
        {
            error.WriteLine($"relist: {unwritten}");
            return ExitCodes.Unusable;
        }

        if (
            !request.IsDryRun
            && request.Folder is { } beside
            && PrintedFileOutput.Write(beside, result) is { } unwrittenFile
        )
        {
            error.WriteLine($"relist: {unwrittenFile}");
            return ExitCodes.Unusable;
        }

        if (request.Output is { } path && !Sources.Write(path, result.Source.ToString(), output, error))
            return ExitCodes.Unusable;
        if (
            request.Report is { } report
            && !Sources.Write(report, RecoveryReport.Json(result, File(), PicturesOf), output, error)
        )
            return ExitCodes.Unusable;
        if (
            request.Review is { } review
            && !Sources.Write(review, ReviewPage.Of(document, ServerVersion.Text, null, pictures), output, error)
        )
            return ExitCodes.Unusable;
        if (request.Archive is { } archive)
            return Archive(archive, request, document, pictures, output, error);
        if (request.IsJson)
        {
            VisibleWriter.Data(output).Write(RecoveryReport.Json(result, File(), PicturesOf));
            return result.IsClean ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
        }

        string shown = File() ?? "recovered source";
        RecoveryReport.Write(error, result.Entries, shown);
        foreach (PrintedFile file in result.Files)
            RecoveryReport.Write(error, file.Result.Entries, RecoveryReport.Beside(File(), file.Name));
        int doubts = result.AllEntries.Count(static e => e.Severity == Severity.Warning),
            errors = result.AllEntries.Count(static e => e.Severity == Severity.Error);
        error.WriteLine(
            $"{shown}: {result.Program.Image.ProgramWords} words recovered; {Count(errors, "problem")}, {Count(doubts, "doubt")} to look at"
        );
        WriteFiles(request, result, error);
        if (!result.IsClean)
            error.WriteLine("'relist explain CODE' has a page about each code in brackets.");
        if (request.IsDryRun)
            error.WriteLine("Dry run: nothing is written.");
        else if (NextStep(request, result.IsClean, output) is { } next)
            error.WriteLine($"Next: {next}");
        return result.IsClean ? ExitCodes.Clean : ExitCodes.ProblemsRemain;

        string? File() =>
            request.Output is null or Sources.Standard ? null : Sources.Shown(Path.GetFullPath(request.Output));

        // A report in a file leads to its pictures wherever both are moved together.
        IReadOnlyList<string> PicturesOf(RecoveryEntry entry, RecoveryResult of) =>
            folder is null
                ? []
                : folder.FilesOf(
                    entry,
                    of,
                    request.Report is null or Sources.Standard
                        ? Environment.CurrentDirectory
                        : Path.GetDirectoryName(Path.GetFullPath(request.Report))!
                );
    }

    // Where the source goes to no file, nothing can be beside it.
    private static void WriteFiles(RecoverRequest request, RecoveryResult result, TextWriter error)
    {
        foreach (PrintedFile file in result.Files)
        {
            string place = file.Pages.Length > 0 ? $", printed on {file.Pages}," : "";
            error.WriteLine(
                request.IsDryRun ? $"{file.Name}{place} would be written beside the source."
                : request.Folder is null
                    ? $"{file.Name}{place} is not written: with '-o OUT.asm' it is written beside the source."
                : $"{file.Name}{place} is beside the source."
            );
        }
    }

    // What a newcomer does now; a document that came through a pipe cannot be named again.
    private static string? NextStep(RecoverRequest request, bool isClean, TextWriter output)
    {
        if (request.Input == Sources.Standard)
            return null;
        string stem = Path.GetFileNameWithoutExtension(request.InputName);
        if (request.Output is null or Sources.Standard)
            return output is VisibleWriter { IsScreen: true }
                ? $"keep the source in a file: {ProgramTable.Command(request, stem + ".asm")}"
                : null;
        string source = ProgramTable.Quoted(request.Output);
        if (isClean)
            return $"relist build {source}";
        return request.Review is { } review
            ? $"open {ProgramTable.Quoted(review)}, compare each doubtful line, correct {source}, and remove the marks. Then: relist build {source}"
            : $"compare each doubtful line with the page: {ProgramTable.Command(request, request.Output)} --review {ProgramTable.Quoted(Path.ChangeExtension(request.Output, ".html"))}";
    }

    // What a person chooses from, each with the command that takes it.
    private static void WriteChoice(RecoverRequest request, RecoveredDocument document, TextWriter error)
    {
        ImmutableArray<FoundListing> listings = ProgramTable.Of(request, document);
        error.WriteLine(
            $"relist: {document.Name} holds {ProgramTable.Count(listings)}. Choose one; nothing is written."
        );
        foreach (FoundListing listing in listings)
        {
            error.WriteLine(ProgramTable.Line(listing));
            if (listing.FirstLines.Length > 0)
                error.WriteLine("     " + listing.FirstLines[0]);
            if (listing.FileName is null)
                error.WriteLine("   " + ProgramTable.Command(request, listing));
        }
    }

    private static int Archive(
        string folder,
        RecoverRequest request,
        RecoveredDocument document,
        DocumentPictures? pictures,
        TextWriter output,
        TextWriter error
    )
    {
        string report = RecoveryReport.Json(document.Result, "source.asm");
        ArchiveOutcome outcome = ArchiveWriter.Write(
            folder,
            new ArchiveRequest(document, report, ServerVersion.Text)
            {
                Chip = request.Chip,
                Options = request.Options,
                Pictures = pictures,
            }
        );
        foreach (string note in outcome.Notes)
            error.WriteLine($"relist: {note}");
        if (outcome.State is not { } state)
        {
            error.WriteLine($"relist: {outcome.Refusal}");
            return ExitCodes.Unusable;
        }

        if (request.IsJson)
        {
            VisibleWriter.Data(output).Write(report);
            return state.IsClean ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
        }

        foreach (RecoveryEntry entry in state.AboutDocument)
            error.WriteLine($"{document.Name}: {ProblemText.Word(entry.Severity)}: {entry.Message} [{entry.Code}]");
        foreach (Problem problem in state.Open)
            error.WriteLine(
                ProblemText.Line(problem, f => f == state.Program.Root.Name ? "source.asm" : Path.GetFileName(f))
            );
        int open = state.Open.Length + state.AboutDocument.Length;
        error.WriteLine(
            $"{folder}: {state.Summary.ToLine(!state.CanBuild)}; {Count(open, "doubt or problem", "doubts or problems")} open, {state.Resolved.Length} resolved; {(state.CanBuild ? "source.hex is built" : "no HEX can be built")}"
        );
        error.WriteLine(
            $"Read README.txt there; 'sha256sum -c SHA256SUMS' or 'relist check {folder}' checks that no file has changed."
        );
        return state.IsClean ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    private static string Count(int number, string what, string? several = null) =>
        $"{(number == 0 ? "no" : number.ToString(CultureInfo.InvariantCulture))} {(number == 1 ? what : several ?? what + "s")}";
}
