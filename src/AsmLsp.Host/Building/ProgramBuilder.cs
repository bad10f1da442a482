using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Problems;

namespace AsmLsp.Host.Building;

/// <summary>What a build came to.</summary>
/// <param name="HexPath">The HEX file that was written, or null where none was.</param>
/// <param name="Summary">The figures.</param>
/// <param name="Refusal">Why no HEX was written, for people; null where it was.</param>
/// <param name="KeptCopy">Where a HEX of somebody else's making that stood in the way is kept now, or null.</param>
public sealed record BuildResult(string? HexPath, BuildSummary Summary, string? Refusal, string? KeptCopy = null)
{
    /// <summary>What became of the HEX that stood there before, in words; null where nothing needs to be said.</summary>
    public string? KeptNote =>
        KeptCopy is null || HexPath is null
            ? null
            : $"{Path.GetFileName(HexPath)} was there before and is not from relist; it is kept as {Path.GetFileName(KeptCopy)}.";
}

/// <summary>Writes a program's HEX file, and only when nothing speaks against it; an old file is left as it is otherwise.</summary>
public static class ProgramBuilder
{
    /// <summary>The code of the problem that marks a place as doubtful.</summary>
    public const string DoubtCode = "open-doubt";

    /// <summary>Where the HEX file of a source goes when nobody says otherwise: beside it.</summary>
    public static string DefaultHexPath(string sourcePath, WorkspaceFile project, string? projectFolder)
    {
        ArgumentNullException.ThrowIfNull(project);
        return project.Output is { } output && projectFolder is not null
            ? Path.GetFullPath(output, projectFolder)
            : Path.ChangeExtension(sourcePath, ".hex");
    }

    /// <summary>Writes the HEX of a program.</summary>
    /// <param name="program">The assembled program.</param>
    /// <param name="problems">All its problems, those of the printed text included.</param>
    /// <param name="hexPath">Where the HEX goes.</param>
    /// <param name="refuseDoubts">Whether an open doubt keeps it from being written, as an error does.</param>
    /// <param name="isNamed">Whether the person named the HEX file for this build: then what stands there is theirs to overwrite. Otherwise a HEX of another's making is kept under another name.</param>
    public static BuildResult Build(
        ProgramAnalysis program,
        IReadOnlyCollection<Problem> problems,
        string hexPath,
        bool refuseDoubts = false,
        bool isNamed = false
    )
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(problems);
        BuildSummary summary = Summarize(program, problems);
        if (Refusal(summary, hexPath, refuseDoubts) is { } refusal)
            return new BuildResult(null, summary, refusal);
        (string? kept, string? keepFault) = isNamed ? (null, null) : EarlierHex.Keep(hexPath);
        if (keepFault is not null)
            return new BuildResult(null, summary, keepFault);
        byte[] bytes = Encoding.ASCII.GetBytes(IntelHexWriter.Write(program.Image.Memory));
        return AtomicWriter.Write(hexPath, bytes) is { } fault
            ? new BuildResult(null, summary, fault)
            : new BuildResult(hexPath, summary, null, kept);
    }

    /// <summary>The figures of a program with its problems counted.</summary>
    public static BuildSummary Summarize(ProgramAnalysis program, IReadOnlyCollection<Problem> problems)
    {
        ArgumentNullException.ThrowIfNull(problems);
        int errors = problems.Count(p => p.Severity == Severity.Error);
        int doubts = problems.Count(p => p.Code == DoubtCode);
        return BuildSummary.Of(program, errors, problems.Count(p => p.Severity == Severity.Warning) - doubts, doubts);
    }

    private static string? Refusal(BuildSummary summary, string hexPath, bool refuseDoubts)
    {
        string kept = File.Exists(hexPath) ? $" {Path.GetFileName(hexPath)} is left as it was." : "";
        if (summary.Errors > 0)
            return $"No HEX is written: {Count(summary.Errors, "error")} must be settled first.{kept}";
        if (refuseDoubts && summary.Doubts > 0)
            return $"No HEX is written: {Count(summary.Doubts, "doubt")} must be settled first.{kept}";
        return null;
    }

    private static string Count(int number, string what) =>
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{number} {what}{(number == 1 ? "" : "s")}");
}
