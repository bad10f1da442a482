using System.Globalization;
using AsmLsp.Host.Archive;

namespace AsmLsp.Host.Pictures;

/// <summary>Finds the printed document that a source was recovered from, by their names: <c>kit.asm</c> beside <c>kit.pdf</c>, or both in an archive.</summary>
public static class DocumentBeside
{
    // As the command of editors names a source where the first name is taken.
    private const string Again = "-recovered";

    private static readonly string[] Endings = [".pdf", ".png", ".jpg", ".jpeg", ".tif", ".tiff"];

    /// <summary>The document of a source; null where there is none.</summary>
    /// <param name="source">The full path of the source.</param>
    public static string? Of(string source)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (Path.GetDirectoryName(source) is not { Length: > 0 } folder)
            return null;
        string stem = Path.GetFileNameWithoutExtension(source);
        List<string> stems = [stem];
        if (WithoutNumber(stem) is { } first)
            stems.Add(first);
        // An archive gives its document a name of its own.
        if (ArchiveFolder.IsArchive(folder))
            stems.Add("document");
        foreach (string name in stems)
        foreach (string ending in Endings)
        foreach (string written in (ReadOnlySpan<string>)[ending, ending.ToUpperInvariant()])
        {
            string path = Path.Combine(folder, name + written);
            if (FileKinds.Of(path) == FileKind.Regular)
                return path;
        }

        return null;
    }

    // 'kit-recovered' and 'kit-recovered-2' are of 'kit'.
    private static string? WithoutNumber(string stem)
    {
        int at = stem.LastIndexOf(Again, StringComparison.Ordinal);
        if (at < 1)
            return null;
        string rest = stem[(at + Again.Length)..];
        bool isOurs =
            rest.Length == 0
            || (rest[0] == '-' && int.TryParse(rest[1..], NumberStyles.None, CultureInfo.InvariantCulture, out _));
        return isOurs ? stem[..at] : null;
    }
}
