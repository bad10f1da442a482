using System.Collections.Concurrent;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using AsmLsp.Core.Text;

namespace AsmLsp.Host;

/// <summary>Why a file can't be used as text.</summary>
public enum LoadFailureKind
{
    /// <summary>There is no such file.</summary>
    Missing,

    /// <summary>It is a folder.</summary>
    Folder,

    /// <summary>It is a device, a pipe or a socket.</summary>
    NotRegular,

    /// <summary>The system doesn't let us read it.</summary>
    NoPermission,

    /// <summary>It is longer than any source text.</summary>
    TooLarge,

    /// <summary>It holds zero bytes, so it is a program or a picture and no text.</summary>
    Binary,

    /// <summary>Reading it failed for another reason.</summary>
    Unreadable,
}

/// <summary>A file that was read.</summary>
/// <param name="Path">Its full path.</param>
/// <param name="Text">Its text, with the encoding it was read with.</param>
/// <param name="Note">What a person should know about how it was read, reported once for each file; else null.</param>
public sealed record LoadedFile(string Path, SourceText Text, string? Note);

/// <summary>A file that could not be read.</summary>
/// <param name="Kind">The reason.</param>
/// <param name="Message">The reason in words, with the name of the file.</param>
public sealed record LoadFailure(LoadFailureKind Kind, string Message);

/// <summary>Either a file or the reason why there is none.</summary>
public readonly record struct LoadResult
{
    private LoadResult(LoadedFile? file, LoadFailure? failure) => (File, Failure) = (file, failure);

    /// <summary>The file, or null.</summary>
    public LoadedFile? File { get; }

    /// <summary>The reason, or null.</summary>
    public LoadFailure? Failure { get; }

    /// <summary>A file that was read.</summary>
    public static LoadResult Of(LoadedFile file) => new(file, null);

    /// <summary>A file that could not be read.</summary>
    public static LoadResult Of(LoadFailureKind kind, string message) => new(null, new(kind, message));

    /// <summary>Whether there is a file.</summary>
    public bool TryGet([NotNullWhen(true)] out LoadedFile? file, [NotNullWhen(false)] out LoadFailure? failure)
    {
        (file, failure) = (File, Failure);
        return file is not null;
    }
}

/// <summary>Reads source files: from bytes to text, with every way of failing reported in plain words.</summary>
public sealed class FileLoader
{
    /// <summary>The longest file taken as a source text, in bytes: some hundred times the longest printed listing.</summary>
    public const int MaxLength = 8 * 1024 * 1024;

    private readonly ConcurrentDictionary<string, byte> noted = new();

    /// <summary>Reads a text file.</summary>
    public LoadResult Load(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (ReadBytes(path, out byte[] bytes) is { } failure)
        {
            return LoadResult.Of(failure.Kind, failure.Message);
        }

        return Decode(Path.GetFullPath(path), bytes);
    }

    /// <summary>Makes a text of bytes that were read already (standard input, say); the name is for the messages.</summary>
    public LoadResult Decode(string name, ReadOnlySpan<byte> bytes)
    {
        ArgumentNullException.ThrowIfNull(name);
        (string text, TextEncoding encoding) = TextEncoding.Decode(bytes);
        if (text.Contains('\0', StringComparison.Ordinal))
        {
            return LoadResult.Of(
                LoadFailureKind.Binary,
                $"{Short(name)} is not a text: it holds zero bytes. Give the source text, not a program or a picture."
            );
        }

        string? note =
            encoding == TextEncoding.Windows1252 && noted.TryAdd(name, 0)
                ? $"{Short(name)} is not UTF-8; it was read as Windows-1252 and is written the same way."
                : null;
        return LoadResult.Of(new LoadedFile(name, SourceText.From(text, encoding), note));
    }

    /// <summary>Reads the bytes of a regular file of at most <see cref="MaxLength"/>; gives the reason where that fails.</summary>
    public static LoadFailure? ReadBytes(string path, out byte[] bytes) => ReadBytes(path, MaxLength, out bytes);

    /// <summary>Reads the bytes of a regular file of at most some length, in bytes; gives the reason where that fails.</summary>
    public static LoadFailure? ReadBytes(string path, int mostBytes, out byte[] bytes)
    {
        ArgumentNullException.ThrowIfNull(path);
        bytes = [];
        if (path.Length == 0 || path.Contains('\0', StringComparison.Ordinal))
            return new(LoadFailureKind.Missing, "The name of the file could not be used.");
        string name = Short(path);
        switch (FileKinds.Of(path))
        {
            case FileKind.Missing:
                return new(LoadFailureKind.Missing, $"There is no file {path}.");
            case FileKind.Folder:
                return new(LoadFailureKind.Folder, $"{path} is a folder; give a file in it.");
            case FileKind.Special:
                return new(
                    LoadFailureKind.NotRegular,
                    $"{path} is not a regular file (a device, a pipe or a socket), so it is not read."
                );
        }

        try
        {
            using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            if (stream.Length > mostBytes)
            {
                double size = stream.Length / (1024.0 * 1024.0);
                return new(
                    LoadFailureKind.TooLarge,
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"{name} is {size:0.#} MB long; files of this kind are read up to {mostBytes / (1024 * 1024)} MB."
                    )
                );
            }

            // A file that shrinks while it is read gives what is left; one that grows gives what was there at the start.
            byte[] buffer = new byte[stream.Length];
            int got = stream.ReadAtLeast(buffer, buffer.Length, throwOnEndOfStream: false);
            bytes = got == buffer.Length ? buffer : buffer[..got];
            return null;
        }
        catch (UnauthorizedAccessException)
        {
            return new(
                LoadFailureKind.NoPermission,
                $"{path} may not be read: the system refuses. Look at the permissions of the file."
            );
        }
        catch (FileNotFoundException)
        {
            return new(LoadFailureKind.Missing, $"There is no file {path}.");
        }
        catch (IOException fault)
        {
            return new(LoadFailureKind.Unreadable, $"{path} can't be read: {fault.Message}");
        }
    }

    private static string Short(string path) => Path.GetFileName(path) is { Length: > 0 } name ? name : path;
}
