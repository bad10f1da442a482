using System.Globalization;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Host.Recovering;
using AsmLsp.Host.Review;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.Rendering;

namespace AsmLsp.Recovering;

/// <summary>Writes what was recovered where the request says, and tells what there is to look at.</summary>
internal static class RecoverOutput
{
    /// <summary>Writes the files of a request; gives the exit code.</summary>
    public static int Write(RecoverRequest request, RecoveredDocument document, TextWriter output, TextWriter error)
    {
        RecoveryResult result = document.Result;
        if (result.Program.Image.Count == 0)
        {
            RecoveryReport.Write(error, [.. result.Entries.Where(e => e.Severity == Severity.Error).Take(3)], document.Name);
            error.WriteLine($"relist: no assembly program is found in {document.Name}. Nothing is written.");
            return ExitCodes.Unusable;
        }

        if (!Sources.Write(request.Output, result.Source.ToString(), output, error)) return ExitCodes.Unusable;
        if (request.Report is { } report && !Sources.Write(report, RecoveryReport.Json(result.Entries), output, error)) return ExitCodes.Unusable;
        if (request.Review is { } review && !Sources.Write(review, ReviewPage.Of(document, LspServer.Version), output, error)) return ExitCodes.Unusable;
        string shown = request.Output == Sources.Standard ? "recovered source" : Sources.Shown(Path.GetFullPath(request.Output));
        RecoveryReport.Write(error, result.Entries, shown);
        int doubts = result.Entries.Count(e => e.Severity == Severity.Warning), errors = result.Entries.Count(e => e.Severity == Severity.Error);
        error.WriteLine($"{shown}: {result.Program.Image.ProgramWords} words recovered; {Count(errors, "problem")}, {Count(doubts, "doubt")} to look at");
        return result.IsClean ? ExitCodes.Clean : ExitCodes.ProblemsRemain;
    }

    private static string Count(int number, string what) => $"{(number == 0 ? "no" : number.ToString(CultureInfo.InvariantCulture))} {what}{(number == 1 ? "" : "s")}";
}
