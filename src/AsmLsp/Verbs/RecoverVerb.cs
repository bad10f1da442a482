using System.Collections.Immutable;
using System.CommandLine;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Host.Recovering;
using AsmLsp.Recovering;

namespace AsmLsp.Verbs;

/// <summary><c>relist recover</c>: a printed document or a paste back into source.</summary>
internal sealed class RecoverVerb : IVerb
{
    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
    [
        "relist recover kit.pdf -o kit.asm",
        "relist recover pasted.txt -o kit.asm --report report.json",
        "relist recover kit.pdf -o kit.asm --review kit.html",
        "relist recover kit.pdf --archive kit-archive",
        "relist recover kit.pdf -o kit.asm --report report.json --pictures kit-pictures",
        "relist recover magazine.pdf --programs",
        "relist recover - < pasted.txt > kit.asm",
    ];

    /// <inheritdoc/>
    public Command Create()
    {
        var input = new Argument<string>("INPUT")
        {
            Description =
                "The document: PDF, scanned page (PNG, JPEG, TIFF), Word, OpenDocument, RTF, web page, or pasted text. '-' reads standard input.",
        };
        var outputPath = new Option<string?>("-o", "--output")
        {
            Description = "Where the source goes. Without it and without an archive: standard output.",
            HelpName = "OUT.asm",
        };
        var report = new Option<string?>("--report")
        {
            Description = "Also write every change, doubt and problem to this file, as a JSON array.",
            HelpName = "FILE.json",
        };
        var review = new Option<string?>("--review")
        {
            Description =
                "Also write a page for any browser: document and source side by side, with each doubt explained.",
            HelpName = "OUT.html",
        };
        var archive = new Option<string?>("--archive")
        {
            Description =
                "Also keep everything in this folder: document, source, report, review page, HEX, and checksums of them. Run again, it takes over the doubts that you resolved in its source.asm.",
            HelpName = "DIR",
        };
        var pictures = new Option<string?>("--pictures")
        {
            Description =
                "Also write pictures into this folder: each printed line to compare, cut out of its page, and each page with these lines framed. The report names them.",
            HelpName = "DIR",
        };
        var pages = new Option<string?>("--pages")
        {
            Description = "The pages of a PDF to look at, such as 4-6 or 1,4-6.",
            HelpName = "PAGES",
        };
        var listing = new Option<int?>("--pick")
        {
            Description = "Which of several programs in the document to take, counted from 1.",
            HelpName = "N",
        };
        var list = new Option<bool>("--programs")
        {
            Description =
                "Only list the programs in the document: pages, lines, words, chip, first lines, whole or fragment, complete or not.",
        };
        var keepProse = new Option<bool>("--keep-prose")
        {
            Description = "Keep the text around the listing in the source, as comments.",
        };
        Option<string?> chip = Sources.ChipOption();
        // Scripts for batches of documents were written with this name; it is not offered.
        var device = new Option<string?>("--device") { Hidden = true };
        Option<string[]> includes = Sources.IncludeOption();
        Option<bool> dryRun = Sources.DryRunOption();
        dryRun.Description = "Recover and report, but write no file.";
        Option<bool> json = Sources.JsonOption();
        json.Description =
            "Write the report, or with --programs the list, as JSON to standard output, for scripts. Without -o the source is not written.";
        var command = new Command(
            "recover",
            "Recover the source from a printed document or a paste. Every change is reported; anything uncertain is marked ';?' on its line.\n\nExit code 0: no doubt is open and the source builds; 1: doubts or problems are left, each in the report; 2: the input could not be used, or it has several programs and '--pick' is needed."
        )
        {
            input,
            outputPath,
            report,
            review,
            archive,
            pictures,
            pages,
            list,
            listing,
            keepProse,
            chip,
            device,
            includes,
            dryRun,
            json,
        };
        command.SetAction(
            (parsed, stop) =>
            {
                TextWriter error = parsed.InvocationConfiguration.Error;
                string? wantedPages = parsed.GetValue(pages);
                if (!RecoverRequest.TryPages(wantedPages, out ImmutableHashSet<int> numbers))
                {
                    error.WriteLine($"relist: '{wantedPages}' names no pages. Write them like 4-6 or 1,4-6.");
                    return Task.FromResult(ExitCodes.Unusable);
                }

                (bool isJson, bool isDry) = (parsed.GetValue(json), parsed.GetValue(dryRun));
                if (
                    isJson
                    && (parsed.GetValue(outputPath) == Sources.Standard || parsed.GetValue(report) == Sources.Standard)
                )
                {
                    error.WriteLine("relist: --json writes to standard output. Name a file for everything else.");
                    return Task.FromResult(ExitCodes.Unusable);
                }

                var request = new RecoverRequest(
                    parsed.GetRequiredValue(input),
                    parsed.GetValue(outputPath)
                        ?? (parsed.GetValue(archive) is null && !isJson && !isDry ? Sources.Standard : null)
                )
                {
                    Report = parsed.GetValue(report),
                    Review = parsed.GetValue(review),
                    Archive = parsed.GetValue(archive),
                    Pictures = parsed.GetValue(pictures),
                    WrittenPages = wantedPages,
                    Pages = numbers,
                    Listing = parsed.GetValue(listing),
                    KeepProse = parsed.GetValue(keepProse),
                    Chip = parsed.GetValue(chip) ?? parsed.GetValue(device),
                    Includes = parsed.GetValue(includes) ?? [],
                    IsJson = isJson,
                    IsDryRun = isDry,
                };
                // On a thread of its own, so that Ctrl-C is heard while it works.
                TextWriter output = parsed.InvocationConfiguration.Output;
                return Task.Run(
                    () =>
                        parsed.GetValue(list)
                            ? RecoverInput.List(request, output, error, stop)
                            : Run(request, output, error, stop),
                    CancellationToken.None
                );
            }
        );
        return command;
    }

    private static int Run(RecoverRequest request, TextWriter output, TextWriter error, CancellationToken stop)
    {
        // Before the work, and once more when it is known what else was read.
        if (request.Check([]).Refusal is { } early)
        {
            error.WriteLine($"relist: {early}");
            return ExitCodes.Unusable;
        }

        if (RecoverInput.Recover(request, error, stop) is not { } document)
            return ExitCodes.Unusable;
        RecoveryResult result = document.Result;
        IEnumerable<string> included = result
            .Program.Files.Where(f => f != result.Program.Root && !result.Files.Any(p => p.File == f))
            .Select(static f => f.Name);
        string? refusal = request.Folder is { } folder
            ? request.Check(included, printed: PrintedFileOutput.PathsIn(folder, result)).Refusal
                ?? (request.IsDryRun ? null : PrintedFileOutput.Refusal(folder, result))
            : request.Check(included).Refusal;
        if (refusal is null)
            return RecoverOutput.Write(request, document, output, error, included, stop);
        error.WriteLine($"relist: {refusal}");
        return ExitCodes.Unusable;
    }
}
