using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;

namespace AsmLsp.Host.Archive;

/// <summary>What the check of an archive found.</summary>
/// <param name="Failure">Why it could not be checked; null where it was.</param>
/// <param name="Files">How many files are as they were.</param>
/// <param name="Faults">What is wrong, for people.</param>
/// <param name="OpenDoubts">How many doubts are open in the source.</param>
public sealed record ArchiveVerdict(string? Failure, int Files, IReadOnlyList<string> Faults, int OpenDoubts)
{
    /// <summary>The boards of the record, each by its last read-out, and whether its chip does what the HEX says.</summary>
    public IReadOnlyDictionary<int, bool> Boards { get; init; } = new SortedDictionary<int, bool>();
}

/// <summary>Compares the files of an archive with its list, and its HEX with what its source builds to.</summary>
public static class ArchiveCheck
{
    /// <summary>Whether a folder is an archive.</summary>
    public static bool IsArchive(string folder) => ArchiveFolder.IsArchive(folder);

    /// <summary>The files of an archive, by their full paths: renewing it reads them. None where the folder is no archive.</summary>
    public static IEnumerable<string> FilesOf(string folder) =>
        folder.Length > 0 && ArchiveFolder.IsArchive(folder) ? ArchiveFolder.NamesOf(Path.GetFullPath(folder)) : [];

    /// <summary>Checks an archive.</summary>
    public static ArchiveVerdict Of(string folder)
    {
        (ArchiveFolder? archive, string? failure) = ArchiveFolder.Read(Path.GetFullPath(folder));
        if (archive is null)
            return new ArchiveVerdict(failure, 0, [], 0);
        string[] missing = [.. archive.Missing],
            changed = [.. archive.Changed];
        List<string> faults =
        [
            .. missing.Select(static n => $"{n} is missing."),
            .. changed.Select(static n => $"{n} is not as it was when the archive was made."),
        ];
        int doubts = 0;
        if (archive.Files.TryGetValue(ArchiveNames.Source, out byte[]? source))
        {
            string path = Path.Combine(archive.Path, ArchiveNames.Source);
            string? device = archive.Files.TryGetValue(ArchiveNames.Manifest, out byte[]? manifest)
                ? ArchiveText.ChipOf(manifest)
                : null;
            if (!new FileLoader().Decode(path, source).TryGet(out LoadedFile? file, out LoadFailure? unreadable))
                return new ArchiveVerdict(unreadable.Message, 0, [], 0);
            ProgramAnalysis program = ArchiveWriter.Assemble(path, file.Text, device);
            doubts = program.Files.Sum(f =>
                ProgramProblems.OfSource(program, f).Count(static p => p.Kind == Catalogue.OpenDoubt)
            );
            if (
                archive.Files.TryGetValue(ArchiveNames.Hex, out byte[]? hex)
                && (program.HasErrors || IntelHexWriter.Write(program.Image.Memory) != Encoding.Latin1.GetString(hex))
            )
                faults.Add($"{ArchiveNames.Source} does not build to {ArchiveNames.Hex}.");
        }

        return new ArchiveVerdict(null, archive.Sums.Count - missing.Length - changed.Length, faults, doubts)
        {
            Boards = BoardsOf(archive, faults),
        };
    }

    // Each row is said again from its read-out: what the record says must come out.
    private static SortedDictionary<int, bool> BoardsOf(ArchiveFolder archive, List<string> faults)
    {
        var boards = new SortedDictionary<int, bool>();
        if (!archive.Files.TryGetValue(ArchiveNames.Boards, out byte[]? record))
            return boards;
        if (ArchiveBoards.Read(record) is not { } rows)
        {
            faults.Add($"{ArchiveNames.Boards} could not be read.");
            return boards;
        }

        archive.Files.TryGetValue(ArchiveNames.Hex, out byte[]? hex);
        foreach (BoardRow row in rows)
        {
            boards[row.Board] = row.IsSame;
            if (!archive.Files.TryGetValue(row.File, out byte[]? readout))
                faults.Add($"{ArchiveNames.Boards} names {row.File}, which is not in the archive.");
            else if (
                hex is not null
                && ArchiveBoards.Row(row.Board, row.File, readout, hex, BoardFiling.ChipOf(archive), row.Who, row.Note)
                    is var now
                && (now.IsSame, now.Verdict) != (row.IsSame, row.Verdict)
            )
                faults.Add($"{row.File} is not what {ArchiveNames.Boards} says: {now.Verdict}");
        }

        return boards;
    }
}
