using System.Diagnostics.CodeAnalysis;
using System.Text;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// Which document is meant. Clients write the same file in several ways (<c>file:///c%3A/a.asm</c>, <c>file:///C:/a.asm</c>), so equality goes by
/// the decoded form; what is sent back is the client's own spelling.
/// </summary>
internal sealed class DocumentUri : IEquatable<DocumentUri>
{
    private readonly string key;

    private DocumentUri(string text, string key, string? path) => (Text, this.key, Path) = (text, key, path);

    /// <summary>As the client spells it.</summary>
    public string Text { get; }

    /// <summary>The file's path on this machine; null where the document is no file (unsaved, or in a store of the editor's own).</summary>
    public string? Path { get; }

    /// <summary>The last part of the name, for messages.</summary>
    public string Name => key[(key.LastIndexOf('/') + 1)..];

    /// <summary>Reads what a client sent; anything is accepted, as a name if nothing else.</summary>
    public static DocumentUri Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        int colon = text.IndexOf(':', StringComparison.Ordinal);
        if (colon < 0 || !text.AsSpan(0, colon).Equals("file", StringComparison.OrdinalIgnoreCase))
        {
            return new(text, text, null);
        }

        string rest = text[(colon + 1)..];
        string host = "";
        if (rest.StartsWith("//", StringComparison.Ordinal))
        {
            int slash = rest.IndexOf('/', 2);
            host = slash < 0 ? rest[2..] : rest[2..slash];
            rest = slash < 0 ? "/" : rest[slash..];
        }

        string path = Uri.UnescapeDataString(rest);
        if (HasDrive(path))
        {
            path = string.Concat("/", char.ToLowerInvariant(path[1]).ToString(), path.AsSpan(2));
        }

        if (host.Equals("localhost", StringComparison.OrdinalIgnoreCase))
        {
            host = "";
        }

        string key = "file://" + host.ToLowerInvariant() + path;
        return new(text, OperatingSystem.IsWindows() ? key.ToLowerInvariant() : key, LocalPath(host, path));
    }

    /// <summary>The name of a file for clients: everything but letters, digits and a few marks is percent-encoded.</summary>
    public static DocumentUri FromPath(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        string slashed = OperatingSystem.IsWindows() ? path.Replace('\\', '/') : path;
        var text = new StringBuilder("file://");
        if (slashed.StartsWith("//", StringComparison.Ordinal))
        {
            slashed = slashed[2..];
        }
        else if (!slashed.StartsWith('/'))
        {
            text.Append('/');
        }

        string[] parts = slashed.Split('/');
        for (int i = 0; i < parts.Length; i++)
        {
            text.Append(i > 0 ? "/" : "").Append(Uri.EscapeDataString(parts[i]));
        }

        return Parse(text.ToString());
    }

    public bool Equals(DocumentUri? other) => other is not null && key == other.key;

    public override bool Equals(object? obj) => Equals(obj as DocumentUri);

    public override int GetHashCode() => key.GetHashCode(StringComparison.Ordinal);

    public override string ToString() => Text;

    private static bool HasDrive(string path) =>
        path.Length >= 3
        && path[0] == '/'
        && char.IsAsciiLetter(path[1])
        && path[2] == ':'
        && (path.Length == 3 || path[3] == '/');

    [SuppressMessage("Globalization", "CA1308", Justification = "Drive letters and host names are ASCII.")]
    private static string? LocalPath(string host, string path)
    {
        // No file can be called so, and the system's own calls refuse it by an exception.
        if (path.Contains('\0', StringComparison.Ordinal))
            return null;
        if (!OperatingSystem.IsWindows())
        {
            return host.Length == 0 ? path : null;
        }

        string windows = (HasDrive(path) ? path[1..] : path).Replace('/', '\\');
        return host.Length == 0 ? windows : @"\\" + host + windows;
    }
}
