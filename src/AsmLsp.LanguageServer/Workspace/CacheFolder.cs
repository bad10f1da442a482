using AsmLsp.LanguageServer.Connection;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>Where files lie that an editor is to show and that can be made again: in the cache folder of the account.</summary>
internal static class CacheFolder
{
    /// <summary>The folder for a kind of files; each version has its own, so that an old file is never shown.</summary>
    public static string For(string kind) => Path.Combine(OfAccount(), "relist", $"{kind}-{ServerVersion.Text}");

    private static string OfAccount()
    {
        if (!OperatingSystem.IsWindows())
        {
            if (
                Environment.GetEnvironmentVariable("XDG_CACHE_HOME") is { Length: > 0 } cache
                && Path.IsPathFullyQualified(cache)
            )
            {
                return cache;
            }

            string home = Environment.GetFolderPath(Environment.SpecialFolder.UserProfile);
            if (home.Length > 0)
            {
                return Path.Combine(home, OperatingSystem.IsMacOS() ? "Library/Caches" : ".cache");
            }
        }

        string local = Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData);
        return local.Length > 0 ? local : Path.GetTempPath();
    }
}
