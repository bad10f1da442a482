using System.Security.Cryptography;
using System.Text;

namespace AsmLsp.Host.Archive;

/// <summary>
/// SHA-256 sums (FIPS 180-4) in the form that <c>sha256sum -c</c> of the GNU core utilities reads: the sum in lower-case hexadecimal digits, two blanks, the name.
/// </summary>
internal static class Checksums
{
    /// <summary>The sum of a file, in lower-case hexadecimal digits.</summary>
    public static string Of(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>The list of some files, by name.</summary>
    public static string List(IEnumerable<KeyValuePair<string, byte[]>> files) =>
        List(files.Select(static f => KeyValuePair.Create(f.Key, Of(f.Value))));

    /// <summary>The list of some sums, by name.</summary>
    public static string List(IEnumerable<KeyValuePair<string, string>> sums)
    {
        var text = new StringBuilder();
        foreach ((string name, string sum) in sums.OrderBy(static s => s.Key, StringComparer.Ordinal))
            text.Append(sum).Append("  ").Append(name).Append('\n');
        return text.ToString();
    }

    /// <summary>Reads a list; null where it is none. Names with a folder in them are none of an archive's.</summary>
    public static Dictionary<string, string>? Read(string list)
    {
        var sums = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (string line in list.Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            string text = line.TrimEnd('\r');
            if (
                text.Length < 67
                || text[64] != ' '
                || text[65] is not (' ' or '*')
                || !text.Take(64).All(char.IsAsciiHexDigit)
            )
                return null;
            string name = text[66..];
            if (name != Path.GetFileName(name) || !sums.TryAdd(name, text[..64].ToLowerInvariant()))
                return null;
        }

        return sums.Count > 0 ? sums : null;
    }
}
