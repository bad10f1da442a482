using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Devices;

namespace AsmLsp.Host.Archive;

/// <summary>A read-out to be filed.</summary>
/// <param name="Readout">The path of the read-out, a HEX file.</param>
/// <param name="Board">The number of the board.</param>
/// <param name="Who">Who programmed it, or empty.</param>
/// <param name="Note">What else there is to say, or empty.</param>
public sealed record FilingRequest(string Readout, int Board, string Who = "", string Note = "");

/// <summary>What came of filing.</summary>
/// <param name="Refusal">Why nothing was written, for people; null where it was.</param>
/// <param name="Row">The row of the record; null where nothing was written.</param>
public sealed record FilingOutcome(string? Refusal, BoardRow? Row);

/// <summary>Files the read-out of a programmed chip in an archive: copies it, compares it with the HEX, and ticks its board in the record.</summary>
public static class BoardFiling
{
    /// <summary>Files a read-out; nothing that is there is written over but the record, the page that lists the files, and the list of sums.</summary>
    public static FilingOutcome Add(string folder, FilingRequest request)
    {
        ArgumentException.ThrowIfNullOrEmpty(folder);
        ArgumentNullException.ThrowIfNull(request);
        if (!ArchiveFolder.IsArchive(folder))
            return Refused($"{folder} is no archive: 'relist recover DOCUMENT --archive DIR' makes one.");
        (ArchiveFolder? archive, string? failure) = ArchiveFolder.Read(Path.GetFullPath(folder));
        if (archive is null)
            return Refused(failure!);
        if (!archive.Files.TryGetValue(ArchiveNames.Hex, out byte[]? hex))
            return Refused($"{folder} has no {ArchiveNames.Hex}: there is nothing to compare a read-out with.");
        string[] touched = [ArchiveNames.Hex, ArchiveNames.Boards, ArchiveNames.Readme];
        if (archive.Changed.Intersect(touched).FirstOrDefault() is { } changed)
            return Refused(
                $"{changed} in {folder} is not as it was when the archive was made: 'relist check {folder}' shows more."
            );
        if (FileLoader.ReadBytes(request.Readout, out byte[] readout) is { } unread)
            return Refused(unread.Message);
        ImmutableArray<BoardRow> rows = [];
        if (archive.Files.TryGetValue(ArchiveNames.Boards, out byte[]? record))
        {
            if (ArchiveBoards.Read(record) is not { } known)
                return Refused($"{ArchiveNames.Boards} in {folder} could not be read.");
            rows = known;
        }

        string name = ArchiveBoards.NameFor(
            request.Board,
            [.. archive.Sums.Keys, .. Directory.EnumerateFiles(archive.Path).Select(static f => Path.GetFileName(f))]
        );
        BoardRow row = ArchiveBoards.Row(request.Board, name, readout, hex, ChipOf(archive), request.Who, request.Note);
        var written = new Dictionary<string, byte[]>(StringComparer.Ordinal)
        {
            [name] = readout,
            [ArchiveNames.Boards] = ArchiveBoards.Write(rows.Add(row)),
        };
        if (archive.Files.TryGetValue(ArchiveNames.Readme, out byte[]? readme))
            written[ArchiveNames.Readme] = Encoding.UTF8.GetBytes(
                ArchiveText.WithFiles(Encoding.UTF8.GetString(readme), [ArchiveNames.Boards, name])
            );
        foreach ((string file, byte[] bytes) in written)
        {
            if (AtomicWriter.Write(Path.Combine(archive.Path, file), bytes) is { } fault)
                return Refused(fault);
        }

        var sums = new SortedDictionary<string, string>(
            archive.Sums.ToDictionary(static s => s.Key, static s => s.Value),
            StringComparer.Ordinal
        );
        foreach ((string file, byte[] bytes) in written)
            sums[file] = Checksums.Of(bytes);
        return
            AtomicWriter.Write(
                Path.Combine(archive.Path, ArchiveNames.Sums),
                Encoding.UTF8.GetBytes(Checksums.List(sums))
            )
                is { } reason
            ? Refused(reason)
            : new FilingOutcome(null, row);
    }

    /// <summary>The chip of an archive's program, by its manifest; null where it does not say.</summary>
    internal static Device? ChipOf(ArchiveFolder archive) =>
        archive.Files.TryGetValue(ArchiveNames.Manifest, out byte[]? manifest)
        && ArchiveText.ProgramChipOf(manifest) is { } name
            ? DeviceCatalog.Find(name)
            : null;

    private static FilingOutcome Refused(string reason) => new(reason, null);
}
