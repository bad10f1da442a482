using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;

namespace AsmLsp.Core.Problems;

/// <summary>
/// Everything that can be reported, one entry each. The entries are in the files <c>Catalogue.*.cs</c> by theme;
/// a test holds that codes are unique and that each has its page in <c>docs/problems</c>.
/// </summary>
public static partial class Catalogue
{
    // Without it the fields of this class could stay unset until one of them is read, and the list would be empty.
    [SuppressMessage("Performance", "CA1810", Justification = "All entries must exist before the list is asked for.")]
    static Catalogue() { }

    /// <summary>All kinds of problem, by code.</summary>
    public static ImmutableArray<ProblemKind> All => [.. Entries.Known.Values];

    /// <summary>The kind with a code, or null.</summary>
    public static ProblemKind? Find(string code) => Entries.Known.GetValueOrDefault(code);

    private static ProblemKind Error(string code, string message) => Add(code, Severity.Error, message);

    private static ProblemKind Warning(string code, string message) => Add(code, Severity.Warning, message);

    private static ProblemKind Information(string code, string message) => Add(code, Severity.Information, message);

    private static ProblemKind Unused(string code, string message) =>
        Add(code, Severity.Information, message, isUnused: true);

    private static ProblemKind Add(string code, Severity severity, string message, bool isUnused = false)
    {
        var kind = new ProblemKind(code, severity, message, isUnused);
        Entries.Known.Add(code, kind);
        return kind;
    }

    // A class of its own, so that the list exists before the first entry of any file asks for it.
    private static class Entries
    {
        internal static readonly SortedDictionary<string, ProblemKind> Known = new(StringComparer.Ordinal);
    }
}
