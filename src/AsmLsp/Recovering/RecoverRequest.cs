using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Host;
using AsmLsp.Host.Archive;

namespace AsmLsp.Recovering;

/// <summary>What the command line asks of <c>recover</c>.</summary>
/// <param name="Input">The document, or '-'.</param>
/// <param name="Output">Where the source goes, or '-'; null where it goes into the archive alone.</param>
internal sealed record RecoverRequest(string Input, string? Output)
{
    /// <summary>Where the report goes, or null.</summary>
    public string? Report { get; init; }

    /// <summary>Where the review page goes, or null.</summary>
    public string? Review { get; init; }

    /// <summary>The folder of the archive, or null.</summary>
    public string? Archive { get; init; }

    /// <summary>The folder for pictures of the printed lines to compare, or null.</summary>
    public string? Pictures { get; init; }

    /// <summary>The pages to look at as they were written, or null.</summary>
    public string? WrittenPages { get; init; }

    /// <summary>The options that say what to recover, as they are written on the command line; each begins with a blank.</summary>
    public string Options =>
        (WrittenPages is { } pages ? $" --pages {pages.Replace(" ", "", StringComparison.Ordinal)}" : "")
        + (Listing is { } number ? string.Create(CultureInfo.InvariantCulture, $" --pick {number}") : "")
        + (KeepProse ? " --keep-prose" : "")
        + (Chip is { } chip ? $" --chip {chip}" : "");

    /// <summary>The pages to look at, from 1; empty for all.</summary>
    public ImmutableHashSet<int> Pages { get; init; } = [];

    /// <summary>Which listing, from 1, or null.</summary>
    public int? Listing { get; init; }

    /// <summary>Whether the text around the listing is kept as comments.</summary>
    public bool KeepProse { get; init; }

    /// <summary>Whether the report goes to standard output as JSON.</summary>
    public bool IsJson { get; init; }

    /// <summary>Whether nothing is written.</summary>
    public bool IsDryRun { get; init; }

    /// <summary>The chip, whatever the source says, or null.</summary>
    public string? Chip { get; init; }

    /// <summary>Further folders for included files.</summary>
    public IReadOnlyList<string> Includes { get; init; } = [];

    /// <summary>The name of the input for people.</summary>
    public string InputName =>
        Input == Sources.Standard ? "standard-input.asm" : Path.GetFileName(Path.GetFullPath(Input));

    /// <summary>The folder that the source goes to, or null where it goes to no file.</summary>
    public string? Folder =>
        Output is null or Sources.Standard ? null : Path.GetDirectoryName(Path.GetFullPath(Output));

    /// <summary>Everything that this run reads and writes, compared with each other.</summary>
    /// <param name="included">The files that the program of the document included.</param>
    /// <param name="pictures">The files of pictures that are to be written, as far as they are known.</param>
    /// <param name="printed">The files that the document prints for the program, which are to be written beside its source.</param>
    public OutputCheck Check(
        IEnumerable<string> included,
        IEnumerable<string>? pictures = null,
        IEnumerable<string>? printed = null
    )
    {
        OutputCheck check =
            Input == Sources.Standard ? new OutputCheck().ReadsStandardInput() : new OutputCheck().Reads(Input);
        check.Reads(included);
        if (Archive is { } folder)
            check.Reads(ArchiveCheck.FilesOf(folder));
        Sources.Writes(check, ("-o", Output), ("--report", Report), ("--review", Review));
        foreach (string picture in pictures ?? [])
            check.Writes("--pictures", picture);
        foreach (string file in printed ?? [])
            check.Writes(Path.GetFileName(file), file);
        return check;
    }

    /// <summary>Reads numbers of pages such as <c>1,4-6</c>; false where the text names none.</summary>
    public static bool TryPages(string? text, out ImmutableHashSet<int> pages)
    {
        const int mostPages = 2_000;
        var found = ImmutableHashSet.CreateBuilder<int>();
        pages = [];
        foreach (
            string part in (text ?? "").Split(
                ',',
                StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries
            )
        )
        {
            string[] ends = part.Split('-');
            if (
                ends.Length > 2
                || !int.TryParse(ends[0], NumberStyles.None, CultureInfo.InvariantCulture, out int first)
                || !int.TryParse(ends[^1], NumberStyles.None, CultureInfo.InvariantCulture, out int last)
                || first < 1
                || last < first
                || last > mostPages
            )
                return false;
            for (int page = first; page <= last; page++)
                found.Add(page);
        }

        pages = found.ToImmutable();
        return text is null || pages.Count > 0;
    }
}
