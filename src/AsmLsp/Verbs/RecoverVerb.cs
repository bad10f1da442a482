using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Document;
using AsmLsp.Core.Recovery.Printed;
using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.Pdf;
using AsmLsp.Rendering;

namespace AsmLsp.Verbs;

/// <summary><c>relist recover</c>: a printed document or a paste back into source.</summary>
internal sealed class RecoverVerb : IVerb
{
    // A thousand printed pages of a hundred lines have less.
    private const int MostTextBytes = 2 * 1024 * 1024;

    /// <inheritdoc/>
    public IReadOnlyList<string> Examples { get; } =
        ["relist recover kit.pdf -o kit.asm", "relist recover pasted.txt -o kit.asm --report report.json", "relist recover - < pasted.txt > kit.asm"];

    /// <inheritdoc/>
    public Command Create()
    {
        var input = new Argument<string>("INPUT") { Description = "The document: a PDF, or pasted text; '-' reads standard input." };
        var outputPath = new Option<string>("-o", "--output") { Description = "Where the source goes; standard output unless given.", HelpName = "OUT.asm", DefaultValueFactory = _ => Sources.Standard };
        var report = new Option<string?>("--report") { Description = "Also write every change, doubt and problem to this file, as a JSON array.", HelpName = "FILE.json" };
        var pages = new Option<string?>("--pages") { Description = "The pages of a PDF to look at, such as 4-6 or 1,4-6.", HelpName = "PAGES" };
        var listing = new Option<int?>("--listing") { Description = "Which listing of a document that holds several, from 1.", HelpName = "N" };
        var keepProse = new Option<bool>("--keep-prose") { Description = "Keep the text around the listing in the source, as comments." };
        Option<string?> device = Sources.DeviceOption();
        Option<string[]> includes = Sources.IncludeOption();
        var command = new Command("recover", "Recover the source from a printed document or a paste. What was changed is told; what is doubtful is marked on its line with ';?'.\n\nExit code 0: nothing is in doubt and the source assembles; 1: doubts or problems are left, each in the report; 2: the input is of no use.")
        {
            input, outputPath, report, pages, listing, keepProse, device, includes,
        };
        command.SetAction(parsed => Run(
            new Wanted(parsed.GetRequiredValue(input), parsed.GetRequiredValue(outputPath), parsed.GetValue(report), parsed.GetValue(pages), parsed.GetValue(listing),
                parsed.GetValue(keepProse), parsed.GetValue(device), parsed.GetValue(includes)),
            parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error));
        return command;
    }

    private static int Run(Wanted wanted, TextWriter output, TextWriter error)
    {
        (string input, string outputPath) = (wanted.Input, wanted.Output);
        if (outputPath != Sources.Standard && input != Sources.Standard && Path.GetFullPath(input) == Path.GetFullPath(outputPath))
        {
            error.WriteLine("relist: the source must not go over its own document: name another file with -o.");
            return ExitCodes.Unusable;
        }

        if (!TryPages(wanted.Pages, out ImmutableHashSet<int> pages))
        {
            error.WriteLine($"relist: '{wanted.Pages}' names no pages: write them like 4-6 or 1,4-6.");
            return ExitCodes.Unusable;
        }

        if (!TryRead(input, error, out byte[] bytes)) return ExitCodes.Unusable;
        string name = input == Sources.Standard ? Path.GetFullPath("standard-input.asm") : Path.GetFullPath(input);
        if (Options(name, wanted.Device, wanted.Includes, error) is not { } options) return ExitCodes.Unusable;
        RecoveryResult? result = IsPdf(bytes)
            ? FromDocument(bytes, new DocumentRecoveryOptions { Text = options, Pages = pages, Listing = wanted.Listing, KeepProse = wanted.KeepProse }, error)
            : FromText(name, bytes, options, error);
        if (result is null) return ExitCodes.Unusable;
        string shown = outputPath == Sources.Standard ? "recovered source" : Sources.Shown(Path.GetFullPath(outputPath));
        if (result.Program.Image.Count == 0)
        {
            RecoveryReport.Write(error, [.. result.Entries.Where(e => e.Severity == Severity.Error).Take(3)], Path.GetFileName(name));
            error.WriteLine($"relist: no assembly program is found in {Path.GetFileName(name)}. Nothing is written.");
            return ExitCodes.Unusable;
        }

        if (!Sources.Write(outputPath, result.Source.ToString(), output, error)) return ExitCodes.Unusable;
        if (wanted.Report is { } report && !Sources.Write(report, RecoveryReport.Json(result.Entries), output, error)) return ExitCodes.Unusable;
        RecoveryReport.Write(error, result.Entries, shown);
        int doubts = result.Entries.Count(e => e.Severity == Severity.Warning), errors = result.Entries.Count(e => e.Severity == Severity.Error);
        error.WriteLine($"{shown}: {result.Program.Image.ProgramWords} words recovered; {Count(errors, "problem")}, {Count(doubts, "doubt")} to look at");
        return result.IsClean ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    // The mark may stand behind some bytes of a mail or a server (PDF 1.7, appendix H, note 13: within the first 1024 bytes).
    private static bool IsPdf(byte[] bytes) => bytes.AsSpan(0, Math.Min(1024, bytes.Length)).IndexOf("%PDF-"u8) >= 0;

    private static bool TryPages(string? text, out ImmutableHashSet<int> pages)
    {
        const int mostPages = 2_000;
        var found = ImmutableHashSet.CreateBuilder<int>();
        pages = [];
        foreach (string part in (text ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            string[] ends = part.Split('-');
            if (ends.Length > 2 || !int.TryParse(ends[0], NumberStyles.None, CultureInfo.InvariantCulture, out int first)
                || !int.TryParse(ends[^1], NumberStyles.None, CultureInfo.InvariantCulture, out int last) || first < 1 || last < first || last > mostPages) return false;
            for (int page = first; page <= last; page++) found.Add(page);
        }

        pages = found.ToImmutable();
        return text is null || pages.Count > 0;
    }

    private static RecoveryOptions? Options(string name, string? device, string[]? includes, TextWriter error)
    {
        var search = new IncludeSearch([], [.. (includes ?? []).Select(Path.GetFullPath)], DiskView.Instance);
        if (device is not null && Core.Devices.DeviceCatalog.Find(device) is null)
        {
            error.WriteLine($"relist: no chip called {device} is known here. 'relist devices' lists those that are.");
            return null;
        }

        return new RecoveryOptions { Name = name, Includes = new IncludeResolver(search, new FileLoader()), Assembly = new AssemblyOptions { Device = device } };
    }

    private static RecoveryResult? FromText(string name, byte[] bytes, RecoveryOptions options, TextWriter error)
    {
        if (bytes.Length > MostTextBytes)
        {
            error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"relist: {Path.GetFileName(name)} is {bytes.Length / (1024.0 * 1024.0):0.#} MB long; pasted text is recovered up to {MostTextBytes / (1024 * 1024)} MB, many times the longest printed listing."));
            return null;
        }

        if (new FileLoader().Decode(name, bytes).TryGet(out LoadedFile? file, out LoadFailure? failure))
        {
            if (file.Note is { } note) error.WriteLine($"relist: {note}");
            return TextRecovery.Run(file.Text.WithEncoding(TextEncoding.Utf8), options);
        }

        error.WriteLine($"relist: {failure.Message}");
        return null;
    }

    private static RecoveryResult? FromDocument(byte[] bytes, DocumentRecoveryOptions options, TextWriter error)
    {
        if (!new PdfReader().Read(bytes).TryGet(out PrintedDocument? document, out PrintedFailure? failure))
        {
            error.WriteLine($"relist: {failure.Message}");
            return null;
        }

        return DocumentRecovery.Run(document, options);
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

        if (FileLoader.ReadBytes(input, ReadingLimits.Default.FileBytes, out bytes) is not { } failure) return true;
        error.WriteLine($"relist: {failure.Message}");
        return false;
    }

    private static string Count(int number, string what) => $"{(number == 0 ? "no" : number.ToString(CultureInfo.InvariantCulture))} {what}{(number == 1 ? "" : "s")}";

    private sealed record Wanted(string Input, string Output, string? Report, string? Pages, int? Listing, bool KeepProse, string? Device, string[]? Includes);
}
