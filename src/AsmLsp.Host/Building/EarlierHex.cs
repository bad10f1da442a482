using System.Text;
using AsmLsp.Core.Hex;

namespace AsmLsp.Host.Building;

/// <summary>
/// Looks after a HEX file that is where a build is about to write. The kit's published HEX may well lie beside the
/// source under its name, and it may be the only copy: what is not of this program's making is kept under another name.
/// </summary>
internal static class EarlierHex
{
    private const int MostCopies = 1_000;

    /// <summary>
    /// Copies the file at a path to <c>NAME.before.hex</c> beside it (<c>NAME.before-2.hex</c> and so on where that is taken), unless it is
    /// written just as <see cref="IntelHexWriter"/> writes, so that it can be built again, or an equal copy is there already.
    /// </summary>
    /// <param name="path">Where a HEX is about to be written.</param>
    /// <returns>The copy, or null where none was needed; and the reason in words where one was needed and could not be made.</returns>
    public static (string? Copy, string? Fault) Keep(string path)
    {
        if (!File.Exists(path) || FileKinds.Of(path) != FileKind.Regular)
            return (null, null);
        if (FileLoader.ReadBytes(path, out byte[] bytes) is { } failure)
            return (null, $"{Path.GetFileName(path)} is there already and could not be looked at: {failure.Message}");
        if (IsOfOurMaking(bytes))
            return (null, null);
        for (int number = 1; number <= MostCopies; number++)
        {
            string copy = CopyName(path, number);
            if (!Path.Exists(copy) && !WorkspaceBounds.IsLink(copy))
                return AtomicWriter.Write(copy, bytes, likeFile: path, followsLinks: false) is { } fault
                    ? (null, fault)
                    : (copy, null);
            if (FileLoader.ReadBytes(copy, out byte[] kept) is null && kept.AsSpan().SequenceEqual(bytes))
                return (null, null);
        }

        return (
            null,
            $"{Path.GetFileName(path)} is there already, and so are {MostCopies} copies of earlier ones: move some of them away."
        );
    }

    /// <summary>Whether something is at a path that is not written just as this program writes HEX files.</summary>
    public static bool IsOfAnother(string path) =>
        Path.Exists(path) && (FileLoader.ReadBytes(path, out byte[] bytes) is not null || !IsOfOurMaking(bytes));

    // The longest name of a file on the usual disks has 255 bytes; the copy of a long name loses the end of its stem.
    private static string CopyName(string path, int number)
    {
        const int longest = 255;
        string ending = (number == 1 ? ".before" : $".before-{number}") + Path.GetExtension(path),
            stem = Path.GetFileNameWithoutExtension(path);
        while (stem.Length > 1 && Encoding.UTF8.GetByteCount(stem + ending) > longest)
            stem = stem[..(char.IsLowSurrogate(stem[^1]) ? ^2 : ^1)];
        return Path.Combine(Path.GetDirectoryName(path)!, stem + ending);
    }

    private static bool IsOfOurMaking(byte[] bytes)
    {
        if (bytes.Length == 0)
            return true;
        string text = Encoding.Latin1.GetString(bytes);
        return IntelHexReader.Read(text) is { IsUsable: true } reading && IntelHexWriter.Write(reading.Memory) == text;
    }
}
