namespace AsmLsp.Tests;

/// <summary>Where the files of the project are.</summary>
internal static class Repository
{
    /// <summary>The folder with AsmLsp.sln, above the test.</summary>
    public static string Root { get; } = FindRoot();

    private static string FindRoot()
    {
        string at = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(at, "AsmLsp.sln")))
            at = Path.GetDirectoryName(at) ?? throw new InvalidOperationException("no AsmLsp.sln above the test");
        return at;
    }
}
