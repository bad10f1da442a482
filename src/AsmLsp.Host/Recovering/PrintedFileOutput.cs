using System.Text;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Host.Recovering;

/// <summary>
/// Writes the files that a document prints for its program beside the program's source. A file that is there is never written over: where it has the same
/// text nothing is done, and where it has another one nothing is written.
/// </summary>
public static class PrintedFileOutput
{
    /// <summary>The full paths of the files in a folder.</summary>
    public static IEnumerable<string> PathsIn(string folder, RecoveryResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return result.Files.Select(f => Path.Combine(folder, f.Name));
    }

    /// <summary>Why the files cannot be written into a folder, for people; null where they can.</summary>
    public static string? Refusal(string folder, RecoveryResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        foreach (PrintedFile file in result.Files)
        {
            string path = Path.Combine(folder, file.Name);
            if (FileKinds.Of(path) != FileKind.Missing && !Has(path, file))
                return $"{path} is there already, and is not as the document prints it{(file.Pages.Length > 0 ? $" on {file.Pages}" : "")}. Move it elsewhere, or choose another folder. Nothing is written.";
        }

        return null;
    }

    /// <summary>Writes the files that are not there yet; gives the reason in words where that fails.</summary>
    public static string? Write(string folder, RecoveryResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        foreach (PrintedFile file in result.Files)
        {
            string path = Path.Combine(folder, file.Name);
            if (
                FileKinds.Of(path) == FileKind.Missing
                && AtomicWriter.Write(path, Bytes(file), followsLinks: false) is { } reason
            )
                return reason;
        }

        return null;
    }

    /// <summary>The bytes of a file.</summary>
    public static byte[] Bytes(PrintedFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return Encoding.UTF8.GetBytes(file.File.Text.ToString());
    }

    private static bool Has(string path, PrintedFile file) =>
        FileKinds.Of(path) == FileKind.Regular
        && FileLoader.ReadBytes(path, out byte[] there) is null
        && there.AsSpan().SequenceEqual(Bytes(file));
}
