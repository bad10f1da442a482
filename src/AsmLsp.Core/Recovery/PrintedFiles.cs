using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>
/// Takes the files that a program includes from the document, where it prints them by themselves: each is recovered as any other listing, and the program
/// is assembled with it. A file that is there already is read itself; where the print of it differs, that is reported.
/// </summary>
internal static class PrintedFiles
{
    /// <summary>The state with the printed files that the lines ask for.</summary>
    public static RecoveryState TakeIn(RecoveryState state)
    {
        RecoveryOptions options = state.Options.Text;
        List<(int Line, string Name)> asked = Asked(state.Lines);
        if (asked.Count == 0 || state.Listings.Count < 2)
            return state;
        var lines = new List<ListingLine>(state.Lines);
        ImmutableArray<PrintedFile> files = state.Files;
        int missing = asked.Count(a => !IsThere(a.Name, options) && Named(state, a.Name) is null);
        foreach ((int line, string name) in asked)
        {
            if (files.Any(f => f.IsNamed(name)) || state.Opening.Contains(name))
                continue;
            Listing? printed = Named(state, name);
            if (options.Includes?.Resolve(name, new SourceFile(options.Name, SourceText.From(""))) is { } there)
            {
                if (printed is not null)
                    lines[line] = Compare(state, lines[line], name, there, printed);
                continue;
            }

            bool isNamed = printed is not null;
            if (!isNamed && missing == 1)
                printed = ByNames(state);
            if (printed is null || !FileNames.IsSafe(name))
                continue;
            (PrintedFile file, files) = Recover(state with { Files = files }, printed, name);
            files = files.Add(file);
            string place = PlaceOf(printed);
            if (isNamed && Other(state, printed) is { } other)
                lines[line] = Doubted(
                    state,
                    lines[line],
                    $"'{name}' is printed twice, with other lines",
                    $"'{name}' was taken from the print {place}, but the one {PlaceOf(other)} differs, first at {FirstDifference(printed.Code, other.Code)}. Compare the two."
                );
            else if (isNamed)
                state.Report.AddAt(
                    lines[line].Printed!,
                    DocumentCodes.PrintedFile,
                    $"'{name}' is printed {place} and was taken from there. It is written beside the source."
                );
            else
                lines[line] = Doubted(
                    state,
                    lines[line],
                    $"is '{name}' printed {place}?",
                    $"'{name}' was taken from the lines {place}: they define names that are missing here, but no row says which file they are. Compare them, and the file beside the source."
                );
        }

        return state with
        {
            Lines = lines,
            Files = files,
            Options = state.Options with
            {
                Text = options with
                {
                    Includes = files.IsEmpty ? options.Includes : new PrintedFileIncludes(options.Includes, files),
                    PrintedFiles = [.. files.Select(static f => f.File.Name)],
                },
            },
        };
    }

    /// <summary>Gives each printed file the problems that it has as a part of the program.</summary>
    public static RecoveryResult WithProblems(RecoveryResult result, ImmutableArray<PrintedFile> files)
    {
        if (files.IsEmpty)
            return result;
        var reported = ImmutableArray.CreateBuilder<PrintedFile>(files.Length);
        foreach (PrintedFile file in files)
        {
            var entries = file.Result.Entries.ToBuilder();
            foreach (Problem problem in result.Program.Problems)
            {
                if (
                    problem.Place.File != file.File
                    || problem.Severity == Severity.Information
                    || problem.Kind == Catalogue.OpenDoubt
                    || entries.Any(e => e.Line == problem.Place.Line && e.Code == problem.Code)
                )
                    continue;
                TextSpan span = problem.Place.Columns;
                entries.Add(
                    new RecoveryEntry(
                        problem.Place.Line,
                        span.Start,
                        span.End,
                        problem.Severity,
                        problem.Code,
                        problem.Message,
                        RecoveredDoubts.PageOf(file.Result, problem.Place.Line)
                    )
                );
            }

            reported.Add(
                file with
                {
                    Result = file.Result with { Entries = [.. entries.OrderBy(static e => e.Line)] },
                }
            );
        }

        return result with
        {
            Files = reported.ToImmutable(),
        };
    }

    // The files that lines include and that are no chip's, each once.
    private static List<(int Line, string Name)> Asked(List<ListingLine> lines)
    {
        var asked = new List<(int, string)>();
        var known = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        for (int i = 0; i < lines.Count; i++)
        {
            if (lines[i].Printed is null)
                continue;
            LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(lines[i].Text));
            if (syntax.Keyword != Keyword.Include)
                continue;
            string name = FileNames.LastPart(syntax.OperandText);
            bool isChip = DeviceCatalog.IsHeaderName(name, out string chip) && DeviceCatalog.Find(chip) is not null;
            if (name.Length > 0 && !isChip && known.Add(name))
                asked.Add((i, name));
        }

        return asked;
    }

    private static bool IsThere(string name, RecoveryOptions options) =>
        options.Includes?.Resolve(name, new SourceFile(options.Name, SourceText.From(""))) is not null;

    private static Listing? Named(RecoveryState state, string name) =>
        state.Listings.Find(l => l != state.Listing && name.Equals(l.FileName, StringComparison.OrdinalIgnoreCase));

    // Another print of the same file, with other lines.
    private static Listing? Other(RecoveryState state, Listing file) =>
        state.Listings.Find(l =>
            l != file && l.FileName is { } name && name.Equals(file.FileName, StringComparison.OrdinalIgnoreCase)
        );

    private static string PlaceOf(Listing listing) =>
        listing.FirstPage == 0
            ? "in the same text"
            : $"on {DocumentListings.InWords([.. listing.Lines.Select(static l => l.Page).Distinct()])}";

    // Null where the lines are the same.
    private static string? FirstDifference(List<string> first, List<string> second)
    {
        int at = 0;
        while (at < first.Count && at < second.Count && first[at] == second[at])
            at++;
        return at < first.Count ? $"'{first[at]}'"
            : at < second.Count ? $"'{second[at]}'"
            : null;
    }

    // Pieces of the document without a head that define what the program lacks, and nothing that it has.
    private static Listing? ByNames(RecoveryState state)
    {
        Listing program = state.Listing!;
        Listing? file = null;
        foreach (Listing piece in state.Listings)
            if (
                piece != program
                && piece.FileName is null
                && !piece.Names.HasHead
                && !piece.Names.Overlaps(program.Names)
                && file?.Names.Overlaps(piece.Names) != true
                && program.Lacking.Exists(piece.Names.Defines)
            )
                file = file is null ? piece : file.With(piece);
        return file;
    }

    private static (PrintedFile File, ImmutableArray<PrintedFile> Others) Recover(
        RecoveryState state,
        Listing listing,
        string name
    )
    {
        RecoveryOptions options = state.Options.Text;
        Listing[] others = [.. state.Listings.Where(l => l == state.Listing || l.FileName is not null)];
        string path = options.Name[..(options.Name.LastIndexOfAny(['/', '\\']) + 1)] + name;
        RecoveryState read = new RecoveryState(
            state.Document,
            state.Options with
            {
                Listing = null,
                KeepProse = false,
                Text = options with
                {
                    Name = path,
                    Assembly = options.Assembly with
                    {
                        ProjectChip = state.Listing!.Chip ?? options.Assembly.ProjectChip,
                    },
                    IsOutside = n =>
                        Array.Exists(others, l => l.Names.Defines(n)) || options.IsOutside?.Invoke(n) == true,
                },
            }
        )
        {
            Pages = state.Pages,
            Parted = state.Parted,
            Finder = state.Finder,
            Found = state.Found,
            Listings = state.Listings,
            Listing = listing,
            Aside = [.. state.Finder!.Aside(listing)],
            Files = state.Files,
            Opening = state.Opening.Add(name),
        };
        read.Report.RankOf = state.Report.RankOf;
        foreach (RecoveryStage stage in RecoveryStage.OfListing)
            read = stage.Run(read);
        RecoveryResult result = read.Result! with { Files = [] };
        string pages = listing.FirstPage == 0 ? "" : PlaceOf(listing)["on ".Length..];
        return (new PrintedFile(name, new SourceFile(path, result.Source), pages, result), read.Files);
    }

    // The file that is there is read; a print of it with other lines is a doubt about both.
    private static ListingLine Compare(
        RecoveryState state,
        ListingLine line,
        string name,
        SourceFile there,
        Listing printed
    )
    {
        string? difference = FirstDifference(
            printed.Code,
            ListingParts.CodeOf(there.Text.Lines.Select(static l => l.Text))
        );
        if (difference is null)
        {
            state.Report.AddAt(
                line.Printed!,
                DocumentCodes.PrintedFile,
                $"'{name}' is printed {PlaceOf(printed)} too, with the lines of the file that is there. The file was read."
            );
            return line;
        }

        return Doubted(
            state,
            line,
            $"'{name}' is printed {PlaceOf(printed)} with other lines",
            $"'{name}' was read from the file that is there, but the print {PlaceOf(printed)} differs, first at {difference}. Compare the two."
        );
    }

    private static ListingLine Doubted(RecoveryState state, ListingLine line, string words, string message)
    {
        state.Report.AddAt(
            line.Printed!,
            DocumentCodes.PrintedFile,
            message,
            Severity.Warning,
            new Doubt(words) { Evidence = DocumentCodes.PrintedFile }
        );
        return line;
    }
}
