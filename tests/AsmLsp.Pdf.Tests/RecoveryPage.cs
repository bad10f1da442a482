namespace AsmLsp.Pdf.Tests;

/// <summary>The tables of docs/recovery.md that tests make: compared with the page, or written into it where RELIST_UPDATE_DOCS is 1.</summary>
internal static class RecoveryPage
{
    private static readonly Lock OneAtATime = new();

    /// <summary>Compares a table with the page.</summary>
    /// <param name="start">The line before the table.</param>
    /// <param name="end">The line after it.</param>
    /// <param name="table">The table.</param>
    /// <param name="held">What of a table has to be the same; all of it where nothing is said.</param>
    public static void Hold(string start, string end, string table, Func<string, string>? held = null)
    {
        held ??= static t => t;
        string? root = AppContext.BaseDirectory;
        while (root is not null && !File.Exists(Path.Combine(root, "AsmLsp.sln")))
            root = Path.GetDirectoryName(root);
        string page = Path.Combine(
            root ?? throw new InvalidOperationException("The folder of the solution is not found above the tests."),
            "docs",
            "recovery.md"
        );
        lock (OneAtATime)
        {
            string text = File.ReadAllText(page);
            int from = text.IndexOf(start, StringComparison.Ordinal) + start.Length,
                to = text.IndexOf(end, StringComparison.Ordinal);
            if (Environment.GetEnvironmentVariable("RELIST_UPDATE_DOCS") == "1")
                File.WriteAllText(page, text = text[..from] + table + text[to..]);
            to = text.IndexOf(end, StringComparison.Ordinal);
            Assert.True(
                held(table) == held(text[from..to]),
                "docs/recovery.md is stale: run the tests with RELIST_UPDATE_DOCS=1.\n" + table
            );
        }
    }
}
