namespace AsmLsp.Core.Recovery.Listings;

/// <summary>Names of source files as documents print them: in headings, in comments and in include lines.</summary>
internal static class FileNames
{
    private const int MostLetters = 64;

    // Endings that people give to sources; a document must not have files of other kinds written.
    private static readonly HashSet<string> Endings = new(StringComparer.OrdinalIgnoreCase)
    {
        ".asm",
        ".def",
        ".equ",
        ".h",
        ".i",
        ".inc",
        ".lib",
        ".mac",
        ".s",
        ".src",
        ".txt",
    };

    // Names that mean a device on some machines, whatever their ending.
    private static readonly HashSet<string> Devices = new(StringComparer.OrdinalIgnoreCase)
    {
        "aux",
        "con",
        "nul",
        "prn",
    };

    /// <summary>The last part of a name with folders, without quotes.</summary>
    public static string LastPart(string written)
    {
        string name = written.Trim().Trim('<', '>', '"', '\'').Trim();
        return name[(name.LastIndexOfAny(['\\', '/']) + 1)..];
    }

    /// <summary>Whether a word is the name of a source file by its ending.</summary>
    public static bool IsSource(string word)
    {
        int point = word.LastIndexOf('.');
        return point > 0 && Endings.Contains(word[point..]) && word.Length <= MostLetters && IsPlain(word);
    }

    /// <summary>Whether a file of that name may be written beside a source: a plain name of a source, which no machine takes for something else.</summary>
    public static bool IsSafe(string name)
    {
        int point = name.IndexOf('.', StringComparison.Ordinal);
        string stem = point < 0 ? name : name[..point];
        bool isNumbered =
            stem.Length == 4
            && char.IsAsciiDigit(stem[3])
            && (
                stem.StartsWith("com", StringComparison.OrdinalIgnoreCase)
                || stem.StartsWith("lpt", StringComparison.OrdinalIgnoreCase)
            );
        return !isNumbered
            && !Devices.Contains(stem)
            && name.Length is > 0 and <= MostLetters
            && IsPlain(name)
            && (point < 0 || IsSource(name));
    }

    private static bool IsPlain(string name)
    {
        if (!char.IsAsciiLetterOrDigit(name[0]) && name[0] != '_')
            return false;
        foreach (char c in name)
            if (!char.IsAsciiLetterOrDigit(c) && c is not ('_' or '-' or '.'))
                return false;
        return true;
    }
}
