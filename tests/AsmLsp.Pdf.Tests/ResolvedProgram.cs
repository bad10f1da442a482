using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Pdf.Tests;

/// <summary>
/// Plays the person who compares exactly the reported lines with the page: each reported line becomes what is printed there, a printed line
/// that the recovered text lacks is put in where the report says that one is missing, or quotes it, or where a reported line has swallowed it. All other
/// lines stay as they are.
/// </summary>
internal sealed class ResolvedProgram
{
    /// <summary>What an entry, or a doubt, says of a place where a line may have been lost.</summary>
    private const string Gap = "line may be missing";

    private const int Rounds = 4;

    // Less alike lines are different ones; a printed line is in another text when so much of it is.
    private const double Alike = 0.45,
        Within = 0.8;

    private readonly RecoveryResult result;
    private readonly bool[] reported;
    private readonly bool[] gapAbove;
    private readonly string[] printed;
    private readonly string[] recovered;
    private readonly List<string> lines = [];
    private bool lacksChip;

    private ResolvedProgram(ProgramAnalysis truth, RecoveryResult result)
    {
        this.result = result;
        printed = [.. truth.Root.Text.Lines.Select(static l => l.Text)];
        recovered = [.. result.Source.Lines.Select(static l => l.Text)];
        reported = new bool[recovered.Length];
        gapAbove = new bool[recovered.Length + 1];
        for (int i = 0; i < recovered.Length; i++)
        {
            if (DoubtMark.WordsOf(recovered[i]) is not { } words)
                continue;
            reported[i] = true;
            gapAbove[i] |= words.Contains(Gap, StringComparison.Ordinal);
        }

        foreach (RecoveryEntry entry in result.Entries)
        {
            // An entry about the whole document is at the first line and means no line.
            if (entry.Severity == Severity.Information || (entry.Line == 0 && entry.EndColumn == 0))
                continue;
            int line = Math.Min(entry.Line, recovered.Length - 1);
            reported[line] = true;
            bool gap =
                entry.Code is DocumentCodes.MissingLines or DocumentCodes.MissingPage
                || entry.Message.Contains(Gap, StringComparison.Ordinal);
            gapAbove[entry.Message.Contains("below this one", StringComparison.Ordinal) ? line + 1 : line] |= gap;
        }
    }

    /// <summary>Lines that differ from the printed ones, and nobody is reported of them.</summary>
    public List<string> Unreported { get; } = [];

    /// <summary>
    /// The program once the reported lines are resolved. A name that is misread alike everywhere changes no word; once one of its lines is resolved, relist says
    /// of the others as errors that name it, and who looks for the name finds them. So it is with the line that names the chip.
    /// </summary>
    public static (ProgramAnalysis Program, List<string> Unreported) Of(ProgramAnalysis truth, RecoveryResult result)
    {
        var resolved = new ResolvedProgram(truth, result);
        for (int round = 0; ; round++)
        {
            resolved.Resolve();
            ProgramAnalysis program = Assembler.Assemble(
                new SourceFile(truth.Root.Name, SourceText.From(string.Join('\n', resolved.lines) + "\n"))
            );
            if (round == Rounds || !resolved.ReportNames(program))
                return (program, resolved.Unreported);
        }
    }

    private bool ReportNames(ProgramAnalysis program)
    {
        var missing = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (Problem problem in program.Problems)
            if (problem.Kind == Catalogue.UndefinedName || problem.Kind == Catalogue.UnknownOperation)
                missing.Add(problem.Arguments[0]);
        bool more = !lacksChip && program.Problems.Any(static p => p.Kind == Catalogue.ChipNotNamed);
        lacksChip |= more;
        foreach ((int p, int r) in Pairs())
        {
            if (
                reported[r]
                || NamesOf(printed[p]).SequenceEqual(NamesOf(recovered[r]))
                || !NamesOf(printed[p]).Concat(NamesOf(recovered[r])).Any(missing.Contains)
            )
                continue;
            more = reported[r] = true;
        }

        return more;
    }

    private static List<string> NamesOf(string line)
    {
        var names = new List<string>();
        foreach (SyntaxToken token in LineSyntax.Parse(line).AllTokens)
            if (token.Kind == TokenKind.Name)
                names.Add(line.Substring(token.Start, token.Length));
        return names;
    }

    private void Resolve()
    {
        lines.Clear();
        Unreported.Clear();
        int p = 0,
            r = 0;
        foreach ((int nextPrinted, int nextRecovered) in Pairs().Append((printed.Length, recovered.Length)))
        {
            Between(p, nextPrinted, r, nextRecovered);
            if (nextPrinted == printed.Length)
                break;
            if (!reported[nextRecovered] && CodeOf(recovered[nextRecovered]) != CodeOf(printed[nextPrinted]))
                Unreported.Add(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"line {nextRecovered + 1}: '{recovered[nextRecovered].Trim()}' instead of '{printed[nextPrinted].Trim()}'"
                    )
                );
            lines.Add(reported[nextRecovered] ? printed[nextPrinted] : recovered[nextRecovered]);
            (p, r) = (nextPrinted + 1, nextRecovered + 1);
        }
    }

    // Lines that have no match: a reported one means one that is printed there; what is printed more must be reported of in some other way.
    private void Between(int fromPrinted, int toPrinted, int fromRecovered, int toRecovered)
    {
        int next = fromPrinted;
        bool gap = false;
        for (int r = fromRecovered; r <= toRecovered; r++)
            gap |= gapAbove[r];
        for (int r = fromRecovered; r < toRecovered; r++)
        {
            if (!reported[r])
            {
                if (CodeOf(recovered[r]).Length > 0)
                    Unreported.Add(
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"line {r + 1}: '{recovered[r].Trim()}', which is not printed"
                        )
                    );
                lines.Add(recovered[r]);
                continue;
            }

            // What else is between stays before it.
            while (next < toPrinted && CodeOf(printed[next]).Length == 0)
                next++;
            if (next < toPrinted)
                lines.Add(printed[next++]);
        }

        for (; next < toPrinted; next++)
        {
            string code = CodeOf(printed[next]);
            if (code.Length == 0)
                continue;
            if (
                gap
                || (lacksChip && NamesChip(code))
                || Enumerable.Range(fromRecovered - 1, toRecovered - fromRecovered + 2).Any(r => IsSwallowed(code, r))
                || IsQuoted(code)
            )
                lines.Add(printed[next]);
            else
                Unreported.Add($"missing: '{printed[next].Trim()}'");
        }
    }

    private static bool NamesChip(string code) =>
        LineSyntax.Parse(" " + code).Operation?.ToLowerInvariant() is "list" or "processor" or "include" or "#include";

    private bool IsSwallowed(string code, int line) =>
        line >= 0 && line < recovered.Length && reported[line] && IsIn(code, recovered[line]);

    // In the words of an entry, as it was read.
    private bool IsQuoted(string code)
    {
        foreach (RecoveryEntry entry in result.Entries)
        {
            if (entry.Severity == Severity.Information)
                continue;
            int from = entry.Message.IndexOf('\'', StringComparison.Ordinal),
                to = entry.Message.LastIndexOf('\'');
            if (to > from && IsIn(code, entry.Message[(from + 1)..to]))
                return true;
        }

        return false;
    }

    private static bool IsIn(string code, string text) =>
        Resemblance.Common(Resemblance.ShapesOf(code), Resemblance.ShapesOf(text))
        >= Within * Resemblance.ShapesOf(code).Length;

    // Blanks and case of words outside of texts are no difference that is worth saying.
    private static string CodeOf(string line)
    {
        if (DoubtMark.Find(line) is { } mark)
            line = line[..mark.Start];
        return string.Join(' ', line.Split(';')[0].Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries));
    }

    // The printed and the recovered lines that belong together, in order, so that they are alike as much as can be.
    private List<(int Printed, int Recovered)> Pairs()
    {
        string[] p = [.. printed.Select(ShapeOf)],
            r = [.. recovered.Select(ShapeOf)];
        double[,] best = new double[p.Length + 1, r.Length + 1],
            alike = new double[p.Length, r.Length];
        for (int i = p.Length - 1; i >= 0; i--)
        {
            for (int j = r.Length - 1; j >= 0; j--)
            {
                best[i, j] = Math.Max(best[i + 1, j], best[i, j + 1]);
                if (p[i].Length == 0 || r[j].Length == 0)
                    continue;
                alike[i, j] = p[i] == r[j] ? 1 : 2.0 * Resemblance.Common(p[i], r[j]) / (p[i].Length + r[j].Length);
                if (alike[i, j] >= Alike)
                    best[i, j] = Math.Max(best[i, j], best[i + 1, j + 1] + alike[i, j] * alike[i, j]);
            }
        }

        var pairs = new List<(int, int)>();
        for (int i = 0, j = 0; i < p.Length && j < r.Length; )
        {
            if (alike[i, j] >= Alike && best[i, j] == best[i + 1, j + 1] + alike[i, j] * alike[i, j])
                pairs.Add((i++, j++));
            else if (best[i, j] == best[i + 1, j])
                i++;
            else
                j++;
        }

        return pairs;
    }

    // A remark by its words, a line with code by its code.
    private static string ShapeOf(string line)
    {
        string code = CodeOf(line);
        if (DoubtMark.Find(line) is { } mark)
            line = line[..mark.Start];
        return Resemblance.ShapesOf(code.Length > 0 ? code : line);
    }
}
