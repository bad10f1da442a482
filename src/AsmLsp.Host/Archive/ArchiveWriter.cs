using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Bench;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Text;
using AsmLsp.Host.Building;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Review;

namespace AsmLsp.Host.Archive;

/// <summary>
/// Puts all that belongs to a recovered program into one folder that the next person can check. A new folder appears whole; in an earlier
/// archive of the same document the files are renewed one by one, the list of sums last, and a source in which somebody has resolved doubts is
/// kept as it is. Whatever else was changed by hand is not written over.
/// </summary>
public static class ArchiveWriter
{
    /// <summary>Writes or renews an archive.</summary>
    public static ArchiveOutcome Write(string folder, ArchiveRequest request)
    {
        ArgumentException.ThrowIfNullOrEmpty(folder);
        ArgumentNullException.ThrowIfNull(request);
        string path = Path.GetFullPath(folder);
        try
        {
            bool isNew = !Directory.Exists(path) || !Directory.EnumerateFileSystemEntries(path).Any();
            if (File.Exists(path))
                return Refused($"{folder} is a file; name a folder for the archive.");
            if (isNew)
                return WriteNew(path, request);
            if (!ArchiveFolder.IsArchive(path))
                return Refused($"{folder} is not empty, and no archive: name another folder. Nothing is written.");
            (ArchiveFolder? earlier, string? failure) = ArchiveFolder.Read(path);
            return earlier is null ? Refused(failure!) : Renew(earlier, request);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return Refused($"{folder} could not be written: {fault.Message}");
        }
    }

    /// <summary>The program of a source in an archive.</summary>
    internal static ProgramAnalysis Assemble(string path, SourceText text, string? device)
    {
        var includes = new DocumentIncludes(Path.GetDirectoryName(path), []);
        return Assembler.Assemble(new SourceFile(path, text), includes, new AssemblyOptions { Chip = device });
    }

    // The review page shows the recovery; what a person has done since is elsewhere.
    private static string? NoteOf(ArchiveRequest request, ArchiveState state)
    {
        if (state.Program.Root.Text.ToString() == request.Document.Result.Source.ToString())
            return null;
        string resolved = state.Resolved.Length switch
        {
            0 => "None of its doubts is resolved there",
            1 => "One of its doubts is resolved there",
            var many => string.Create(CultureInfo.InvariantCulture, $"{many} of its doubts are resolved there"),
        };
        int open = state.Open.Length + state.AboutDocument.Length;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"This page shows the program as it was recovered ({ArchiveNames.Recovered}). The program was changed since, in {ArchiveNames.Source}. {resolved}, and {open} doubts or problems are open; {ArchiveNames.Doubts} lists them."
        );
    }

    private static ArchiveOutcome Refused(string reason) => new(reason, null, []);

    private static ArchiveOutcome WriteNew(string path, ArchiveRequest request)
    {
        var state = ArchiveState.Of(request.Document.Result, request.Document.Result.Program);
        (SortedDictionary<string, byte[]> files, string? fault) = Content(
            request,
            state,
            Encoding.UTF8.GetBytes(request.Document.Result.Source.ToString())
        );
        if (fault is not null)
            return Refused(fault);
        string? above = Path.GetDirectoryName(Path.TrimEndingDirectorySeparator(path));
        if (above is null || !Directory.Exists(above))
            return Refused($"{path} could not be written: the folder that it is to be in does not exist.");
        string whole = Path.TrimEndingDirectorySeparator(path);
        TemporaryNames.Clean(whole);
        string temporary = TemporaryNames.For(whole);
        try
        {
            Directory.CreateDirectory(temporary);
            foreach ((string name, byte[] bytes) in files)
                if (AtomicWriter.Write(Path.Combine(temporary, name), bytes) is { } reason)
                    return Refused(reason);
            // Empty, or the archive would be renewed.
            if (Directory.Exists(path))
                Directory.Delete(path);
            Directory.Move(temporary, path);
            return new ArchiveOutcome(null, state, []);
        }
        finally
        {
            if (Directory.Exists(temporary))
                Directory.Delete(temporary, recursive: true);
        }
    }

    private static ArchiveOutcome Renew(ArchiveFolder earlier, ArchiveRequest request)
    {
        string document = earlier.Document ?? "";
        if (document.Length == 0 || earlier.Sums[document] != Checksums.Of(request.Document.Bytes.Span))
            return Refused(
                $"{earlier.Path} is the archive of another document. Name another folder. Nothing is written."
            );

        // Recovered from the copy in the archive: the document keeps the name that it came with.
        if (
            request.Document.Name == document
            && earlier.Files.TryGetValue(ArchiveNames.Manifest, out byte[]? manifest)
            && ArchiveText.DocumentNameOf(manifest) is { } name
        )
            request = request with { Document = request.Document with { Name = name } };
        var notes = new List<string>();
        string sourcePath = Path.Combine(earlier.Path, ArchiveNames.Source);
        byte[] source = Encoding.UTF8.GetBytes(request.Document.Result.Source.ToString());
        ProgramAnalysis program = request.Document.Result.Program;
        bool isResolved =
            earlier.Files.TryGetValue(ArchiveNames.Source, out byte[]? kept)
            && (!earlier.Sums.TryGetValue(ArchiveNames.Recovered, out string? first) || Checksums.Of(kept) != first);
        // Doubts of a printed file are resolved in it, as those of the source are.
        string[] keptFiles =
        [
            .. request
                .Document.Result.Files.Where(f =>
                    earlier.Files.TryGetValue(f.Name, out byte[]? there)
                    && !there.AsSpan().SequenceEqual(PrintedFileOutput.Bytes(f))
                )
                .Select(static f => f.Name),
        ];
        if (isResolved || keptFiles.Length > 0)
        {
            if (isResolved)
                source = kept!;
            if (!new FileLoader().Decode(sourcePath, source).TryGet(out LoadedFile? file, out LoadFailure? failure))
                return Refused(failure.Message);
            if (file.Note is { } note)
                notes.Add(note);
            program = Assemble(sourcePath, file.Text, request.Chip);
            foreach (string own in isResolved ? keptFiles.Prepend(ArchiveNames.Source) : keptFiles)
                notes.Add($"{own} is kept as it is in the archive.");
        }

        var state = ArchiveState.Of(request.Document.Result, program);
        (SortedDictionary<string, byte[]> files, string? fault) = Content(request, state, source, earlier);
        if (fault is not null)
            return Refused(fault);
        if (
            earlier.Files.TryGetValue(ArchiveNames.Boards, out byte[]? record)
            && files.TryGetValue(ArchiveNames.Boards, out byte[]? renewed)
            && !record.AsSpan().SequenceEqual(renewed)
            && !earlier.Changed.Contains(ArchiveNames.Boards)
        )
            notes.Add($"The HEX changed, so {ArchiveNames.Boards} says again what each filed read-out is.");
        // What is to be written anyway may be there already: an earlier run was cut short.
        string[] changed =
        [
            .. earlier.Changed.Where(n =>
                n != ArchiveNames.Source
                && !(files.TryGetValue(n, out byte[]? ours) && ours.AsSpan().SequenceEqual(earlier.Files[n]))
            ),
        ];
        if (changed.Length > 0)
            return Refused(
                $"{string.Join(", ", changed)} in {earlier.Path} was changed by hand since the archive was made, and would be lost. Move it elsewhere, or name another folder. Nothing is written."
            );
        return WriteOver(earlier, files, notes) is { } reason
            ? Refused(reason)
            : new ArchiveOutcome(null, state, notes);
    }

    private static string? WriteOver(ArchiveFolder earlier, SortedDictionary<string, byte[]> files, List<string> notes)
    {
        foreach ((string name, byte[] bytes) in files)
        {
            if (
                name == ArchiveNames.Sums
                || (earlier.Files.TryGetValue(name, out byte[]? old) && old.AsSpan().SequenceEqual(bytes))
            )
                continue;
            string path = Path.Combine(earlier.Path, name);
            if (
                !earlier.Sums.ContainsKey(name)
                && FileKinds.Of(path) != FileKind.Missing
                && !(
                    FileLoader.ReadBytes(path, int.MaxValue, out byte[] there) is null
                    && there.AsSpan().SequenceEqual(bytes)
                )
            )
                return $"{path} is not of the archive, and would be written over. Move it elsewhere.";
            if (AtomicWriter.Write(path, bytes) is { } reason)
                return reason;
        }

        // A HEX that the source does not build to any more must not lie beside it. All else may be a person's own, listed or not.
        foreach (string name in earlier.Files.Keys.Where(n => !files.ContainsKey(n)))
        {
            string path = Path.Combine(earlier.Path, name);
            if (name == ArchiveNames.Hex && !EarlierHex.IsOfAnother(path))
            {
                File.Delete(path);
                notes.Add($"{name} was taken out of the archive: it belongs to an earlier state of the source.");
            }
            else
            {
                notes.Add($"{name} is no longer part of the archive; the file is left where it is.");
            }
        }

        return AtomicWriter.Write(Path.Combine(earlier.Path, ArchiveNames.Sums), files[ArchiveNames.Sums]);
    }

    private static (SortedDictionary<string, byte[]> Files, string? Fault) Content(
        ArchiveRequest request,
        ArchiveState state,
        byte[] source,
        ArchiveFolder? earlier = null
    )
    {
        var files = new SortedDictionary<string, byte[]>(StringComparer.Ordinal);
        string document = ArchiveNames.Document(request.Document.Printed is not null, request.Document.Name);
        files[document] = request.Document.Bytes.ToArray();
        Put(ArchiveNames.Recovered, request.Document.Result.Source.ToString());
        files[ArchiveNames.Source] = source;
        Put(ArchiveNames.Report, request.Report);
        Put(
            ArchiveNames.Review,
            ReviewPage.Of(request.Document, request.Version, NoteOf(request, state), request.Pictures)
        );
        Put(ArchiveNames.Doubts, ArchiveText.Doubts(request.Document.Result, state));
        if (state.CanBuild)
            files[ArchiveNames.Hex] = Encoding.ASCII.GetBytes(IntelHexWriter.Write(state.Program.Image.Memory));
        if (state.CanBuild && state.Summary.Device is { } device)
            Put(ArchiveNames.Card, CardOf(state, device));
        if (earlier is not null)
            Boards(earlier, files, state.Summary.Device);
        Put(ArchiveNames.Manifest, ArchiveText.Manifest(request, state, document, state.CanBuild));
        foreach (SourceFile include in state.Program.Files.Where(f => f != state.Program.Root))
        {
            byte[] bytes;
            if (request.Document.Result.Files.FirstOrDefault(f => f.File == include) is { } printed)
                bytes = PrintedFileOutput.Bytes(printed);
            else if (FileLoader.ReadBytes(include.Name, out bytes) is { } failure)
                return (files, failure.Message);
            string name = Path.GetFileName(include.Name);
            if (
                files.TryGetValue(name, out byte[]? other)
                    ? !other.AsSpan().SequenceEqual(bytes)
                    : name is ArchiveNames.Readme or ArchiveNames.Sums
            )
                return (
                    files,
                    $"The included file {name} has the name of another file of the archive. Rename it, and the include."
                );
            files[name] = bytes;
        }

        string[] order =
        [
            document,
            ArchiveNames.Recovered,
            ArchiveNames.Source,
            ArchiveNames.Hex,
            ArchiveNames.Card,
            ArchiveNames.Review,
            ArchiveNames.Doubts,
            ArchiveNames.Report,
            ArchiveNames.Manifest,
        ];
        Put(
            ArchiveNames.Readme,
            ArchiveText.Readme(
                request,
                state,
                document,
                order.Where(files.ContainsKey).Concat(files.Keys.Except(order))
            )
        );
        Put(ArchiveNames.Sums, Checksums.List(files));
        return (files, null);

        void Put(string name, string text) => files[name] = Encoding.UTF8.GetBytes(text);
    }

    private static string CardOf(ArchiveState state, Device device) =>
        CardHtml.Of(
            BenchCard.Of(
                BenchSubject.Of(ArchiveNames.Hex, state.Program, device) with
                {
                    Doubts = state.Summary.Doubts,
                    Warnings = state.Summary.Warnings,
                }
            )
        );

    // The read-outs of the boards stay; what they are is said again, for the HEX may be another one now.
    private static void Boards(ArchiveFolder earlier, SortedDictionary<string, byte[]> files, Device? device)
    {
        // One that was changed by hand is left out here, and refused as any other such file.
        foreach (string name in earlier.Files.Keys.Where(ArchiveBoards.IsOne).Except(earlier.Changed))
            files[name] = earlier.Files[name];
        if (
            files.TryGetValue(ArchiveNames.Boards, out byte[]? record)
            && ArchiveBoards.Read(record) is { } rows
            && files.TryGetValue(ArchiveNames.Hex, out byte[]? hex)
        )
            files[ArchiveNames.Boards] = ArchiveBoards.Write(ArchiveBoards.Renewed(rows, earlier.Files, hex, device));
    }
}
