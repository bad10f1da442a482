namespace AsmLsp.Host;

/// <summary>Follows the links in every part of a path, so that what two names really mean can be compared.</summary>
internal static class RealPath
{
    private const int MostLinks = 40;

    /// <summary>The path without links; null where links go in a circle or may not be followed.</summary>
    public static string? Of(string path)
    {
        try
        {
            return Follow(Path.GetFullPath(path));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or ArgumentException)
        {
            return null;
        }
    }

    /// <summary>Whether what a path leads to is in a folder, links in both followed.</summary>
    public static bool IsIn(string folder, string path) =>
        Of(folder) is { } real && Of(path) is { } target && WorkspaceBounds.Below(real, target) is not null;

    private static string? Follow(string full)
    {
        string at = Path.GetPathRoot(full)!;
        var parts = new Stack<string>(Parts(full[at.Length..]).Reverse());
        int links = 0;
        while (parts.TryPop(out string? part))
        {
            string next = Path.Combine(at, part);
            if (new FileInfo(next).LinkTarget is not { } target)
            {
                at = next;
                continue;
            }

            if (++links > MostLinks)
                return null;
            string to = Path.GetFullPath(target, at);
            at = Path.GetPathRoot(to)!;
            foreach (string step in Parts(to[at.Length..]).Reverse())
                parts.Push(step);
        }

        return at;
    }

    private static string[] Parts(string path) =>
        path.Split(
            [Path.DirectorySeparatorChar, Path.AltDirectorySeparatorChar],
            StringSplitOptions.RemoveEmptyEntries
        );
}
