using System.Collections.Concurrent;
using System.Text;
using AsmLsp.LanguageServer.Connection;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The pages that explain each kind of problem. They travel inside the executable; a page is written into a cache folder when a problem of its
/// kind was reported, so that the editor's link leads to a file that is there, without a network.
/// </summary>
internal sealed class ProblemPages(string folder)
{
    private const string Prefix = "problem/";

    private static readonly Lazy<HashSet<string>> Codes = new(() =>
        [
            .. typeof(ProblemPages)
                .Assembly.GetManifestResourceNames()
                .Where(name => name.StartsWith(Prefix, StringComparison.Ordinal))
                .Select(name => name[Prefix.Length..]),
        ]
    );

    private readonly ConcurrentDictionary<string, string?> addresses = new();
    private readonly ConcurrentDictionary<string, byte> written = new();

    /// <summary>The pages in the cache folder of the person; each version has its own, so that an old page is never shown.</summary>
    public static ProblemPages OfThisVersion { get; } = new(CacheFolder.For("problems"));

    /// <summary>The address of a kind's page, or null where it has none. Touches no file.</summary>
    public string? AddressOf(string code) =>
        addresses.GetOrAdd(code, of => Codes.Value.Contains(of) ? DocumentUri.FromPath(PathOf(of)).Text : null);

    /// <summary>The text of a kind's page, or null.</summary>
    public static string? TextOf(string code)
    {
        using Stream? page = typeof(ProblemPages).Assembly.GetManifestResourceStream(Prefix + code);
        if (page is null)
        {
            return null;
        }

        using var reader = new StreamReader(page, Encoding.UTF8);
        return reader.ReadToEnd();
    }

    /// <summary>Writes the page of a kind where it is not there yet; false where that fails or there is none.</summary>
    public bool Write(string code)
    {
        if (written.ContainsKey(code))
        {
            return true;
        }

        if (TextOf(code) is not { } text)
        {
            return false;
        }

        try
        {
            Directory.CreateDirectory(folder);
            if (Host.AtomicWriter.Write(PathOf(code), Encoding.UTF8.GetBytes(text)) is not null)
            {
                return false;
            }
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // A home without a place to write in: the problem is reported all the same, only its page can't be opened.
            return false;
        }

        written.TryAdd(code, 0);
        return true;
    }

    private string PathOf(string code) => Path.Combine(folder, code + ".md");
}
