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
/// <param name="KeptCopy">Where a HEX of somebody else's making that was in the way is kept now, or null.</param>
public sealed record BuildResult(string? HexPath, BuildSummary Summary, string? Refusal, string? KeptCopy = null)
{
    /// <summary>What became of the HEX that was there before, in words; null where nothing needs to be said.</summary>
    public string? KeptNote =>
        KeptCopy is null || HexPath is null
            ? null
            : $"{Path.GetFileName(HexPath)} was there before and is not from relist; it is kept as {Path.GetFileName(KeptCopy)}.";
}

/// <summary>Writes a program's HEX file, and only when nothing prevents it; an old file is left as it is otherwise.</summary>
public static class ProgramBuilder
{
    /// <summary>The code of the problem that marks a place as doubtful.</summary>
    public const string DoubtCode = "open-doubt";

    /// <summary>Writes the HEX of a program.</summary>
    /// <param name="program">The assembled program.</param>
    /// <param name="problems">All its problems, those of the printed text included.</param>
    /// <param name="place">Where the HEX goes.</param>
    /// <param name="refuseDoubts">Whether an open doubt keeps it from being written, as an error does.</param>
    /// <param name="acceptDoubts">Whether the person wants the HEX of a one-time-programmable chip in spite of open doubts.</param>
    public static BuildResult Build(
        ProgramAnalysis program,
        IReadOnlyCollection<Problem> problems,
        HexPlace place,
        bool refuseDoubts = false,
        bool acceptDoubts = false
    )
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(problems);
        ArgumentNullException.ThrowIfNull(place);
        BuildSummary summary = Summarize(program, problems);
        if (Refusal(summary, place.Path, refuseDoubts, acceptDoubts) is { } refusal)
            return new BuildResult(null, summary, refusal);
        byte[] bytes = Encoding.ASCII.GetBytes(IntelHexWriter.Write(program.Image.Memory));
        (string? kept, string? fault) = place.Write(bytes);
        return fault is not null
            ? new BuildResult(null, summary, $"No HEX is written: {fault}", kept)
            : new BuildResult(place.Path, summary, null, kept);
    }

    /// <summary>The figures of a program with its problems counted.</summary>
    public static BuildSummary Summarize(ProgramAnalysis program, IReadOnlyCollection<Problem> problems)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(problems);
        // An error may be left out of what is shown, because another problem explains its line: it counts all the same.
        int errors = Math.Max(problems.Count(p => p.Severity == Severity.Error), program.HasErrors ? 1 : 0);
        int doubts = problems.Count(p => p.Code == DoubtCode);
        return BuildSummary.Of(program, errors, problems.Count(p => p.Severity == Severity.Warning) - doubts, doubts);
    }

    /// <summary>Why no HEX is written, or null where nothing prevents it.</summary>
    public static string? Refusal(BuildSummary summary, string hexPath, bool refuseDoubts, bool acceptDoubts)
    {
        ArgumentNullException.ThrowIfNull(summary);
        string kept = File.Exists(hexPath) ? $" {Path.GetFileName(hexPath)} is left as it was." : "";
        if (summary.Errors > 0)
            return $"No HEX is written: fix {Count(summary.Errors, "error")} first.{kept}";
        if (refuseDoubts && summary.Doubts > 0)
            return $"No HEX is written: resolve {Count(summary.Doubts, "open doubt")} first.{kept}";
        if (summary.Device is not { IsOneTimeProgrammable: true } device || acceptDoubts)
            return null;
        string once = $"{device.Name} can be programmed only once";
        if (summary.Doubts > 0)
            return $"No HEX is written: {once}, and {Count(summary.Doubts, "doubt")} {(summary.Doubts == 1 ? "is" : "are")} open. Resolve {(summary.Doubts == 1 ? "it" : "them")}, or build with --accept-doubts.{kept}";
        if (summary.Configuration is null)
            return $"No HEX is written: {once}, and the program does not set its configuration word. Set it, or build with --accept-doubts.{kept}";
        return null;
    }

    private static string Count(int number, string what) =>
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{number} {what}{(number == 1 ? "" : "s")}");
}
