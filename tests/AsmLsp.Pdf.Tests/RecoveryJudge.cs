using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Pdf.Tests;

/// <summary>How a recovered program is to the one that was printed.</summary>
internal enum Outcome
{
    /// <summary>The same words at the same addresses.</summary>
    Identical,

    /// <summary>Words differ, and who resolves exactly the reported lines has the printed program.</summary>
    Flagged,

    /// <summary>Words differ still when all reported lines are resolved: the defect that must not be.</summary>
    Silent,
}

/// <summary>Compares a recovered program with the one that was printed: at first as it is, then with its reported lines resolved.</summary>
internal static class RecoveryJudge
{
    private const int MostReported = 12;

    /// <summary>The outcome, and what nobody is reported of.</summary>
    public static (Outcome Outcome, List<string> Unreported) Judge(ProgramAnalysis truth, RecoveryResult result)
    {
        if (IsSame(truth, result.Program))
            return (Outcome.Identical, []);
        (ProgramAnalysis resolved, List<string> unreported) = ResolvedProgram.Of(truth, result);
        if (IsSame(truth, resolved))
            return (Outcome.Flagged, []);
        unreported.AddRange(Differences(truth, resolved).Take(MostReported));
        return (Outcome.Silent, unreported);
    }

    private static bool IsSame(ProgramAnalysis a, ProgramAnalysis b) => Words(a).SequenceEqual(Words(b));

    private static IEnumerable<(int Address, ushort Word)> Words(ProgramAnalysis program) =>
        program.Image.Words.Select(static w => (w.Address, w.Word));

    private static IEnumerable<string> Differences(ProgramAnalysis truth, ProgramAnalysis resolved)
    {
        Dictionary<int, ushort> wanted = Words(truth).ToDictionary(static w => w.Address, static w => w.Word),
            got = Words(resolved).ToDictionary(static w => w.Address, static w => w.Word);
        foreach (int address in wanted.Keys.Union(got.Keys).Order())
        {
            string Word(Dictionary<int, ushort> words) =>
                words.TryGetValue(address, out ushort word)
                    ? word.ToString("X4", CultureInfo.InvariantCulture)
                    : "nothing";
            if (Word(wanted) != Word(got))
                yield return string.Create(
                    CultureInfo.InvariantCulture,
                    $"at {address:X4}: {Word(got)} instead of {Word(wanted)}"
                );
        }
    }
}
