using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>
/// Does what a person does with a recovered source: compares the lines that are reported with the page, and writes them as they are
/// printed there. Lines that nobody reports stay as they came. What is built then has to be the true program.
/// </summary>
internal static class Resolved
{
    /// <summary>The differences that are left when all that is reported is resolved; empty where the words are the true ones.</summary>
    /// <param name="truth">The program as it was printed.</param>
    /// <param name="result">What was recovered.</param>
    /// <param name="includes">Finds the files that it includes.</param>
    public static List<string> Left(ProgramAnalysis truth, RecoveryResult result, IIncludeResolver? includes)
    {
        if (SameWords(truth, result.Program))
            return [];
        Line[] wanted =
        [
            .. Enumerable
                .Range(0, truth.Root.Text.LineCount)
                .Select(i => new Line(truth.Root.Text[i].Text, false))
                .Where(static l => l.Code.Length > 0),
        ];
        HashSet<int> reported = ReportedLines(result);
        // A name that is not known is reported where it is used: its definition is what a person looks for on the page.
        var asked = result
            .Program.Problems.Where(static p =>
                p.Kind == Catalogue.UndefinedName
                || p.Kind == Catalogue.UnknownOperation
                || p.Kind == Catalogue.NotAnOperation
            )
            .Select(static p => p.Arguments[0])
            .ToHashSet(StringComparer.OrdinalIgnoreCase);
        foreach (int line in reported)
            if (DoubtMark.WordsOf(result.Source[line].Text) is { } words)
                asked.UnionWith(words.Split(' ', ':', '(', ')').SkipWhile(static w => w != "was").Skip(1).Take(1));
        // What opens and is never closed is reported where it opens.
        if (result.Program.Problems.Any(static p => p.Kind == Catalogue.BlockNotClosed))
            asked.UnionWith(["endm", "endif", "endw", "endc", "#endif"]);
        Line[] made =
        [
            .. Enumerable
                .Range(0, result.Source.LineCount)
                .Select(i => new Line(result.Source[i].Text, reported.Contains(i)))
                .Where(static l => l.IsReported || l.Code.Length > 0),
        ];
        var lines = new List<string>();
        var left = new List<string>();
        int w = 0,
            m = 0;
        foreach ((int nextWanted, int nextMade) in Same(wanted, made).Append((wanted.Length, made.Length)))
        {
            if (nextWanted > w || nextMade > m)
            {
                // Where a line is missing, the one above or below it is looked at.
                bool isReported = Enumerable
                    .Range(Math.Max(0, m - 1), Math.Min(made.Length, nextMade + 1) - Math.Max(0, m - 1))
                    .Any(i => made[i].IsReported);
                isReported |= wanted[w..nextWanted].Concat(made[m..nextMade]).Any(l => l.Names.Any(asked.Contains));
                string[] before = [.. wanted[w..nextWanted].Select(static l => l.Text)],
                    now = [.. made[m..nextMade].Select(static l => l.Text)];
                lines.AddRange(isReported ? before : now);
                if (!isReported)
                    left.Add($"'{string.Join(" / ", now)}' instead of '{string.Join(" / ", before)}'");
            }

            if (nextWanted < wanted.Length)
                lines.Add(wanted[nextWanted].Text);
            (w, m) = (nextWanted + 1, nextMade + 1);
        }

        ProgramAnalysis resolved = Assembler.Assemble(
            new SourceFile(truth.Root.Name, SourceText.From(string.Join("\n", lines))),
            includes
        );
        // With an error left nothing is built, and it is reported.
        return
            ProgramProblems.OfSource(resolved, resolved.Root).Any(static p => p.Severity == Severity.Error)
            || SameWords(truth, resolved)
            ? []
            : left;
    }

    private static bool SameWords(ProgramAnalysis a, ProgramAnalysis b) =>
        a
            .Image.Words.Select(static w => (w.Address, w.Word))
            .SequenceEqual(b.Image.Words.Select(static w => (w.Address, w.Word)));

    private static HashSet<int> ReportedLines(RecoveryResult result)
    {
        // An entry about the whole document is at the first line and means no line.
        var reported = result
            .Entries.Where(static e => e.Severity != Severity.Information && (e.Line > 0 || e.EndColumn > 0))
            .Select(static e => e.Line)
            .ToHashSet();
        for (int i = 0; i < result.Source.LineCount; i++)
            if (DoubtMark.Find(result.Source[i].Text) is not null)
                reported.Add(i);
        // What is missing above a line may be above its label, too.
        foreach (
            RecoveryEntry entry in result.Entries.Where(static e =>
                e.Code is AsmLsp.Core.Recovery.Results.DocumentCodes.MissingLines
            )
        )
            for (int i = entry.Line - 1; i >= 0 && result.Program.FactsOf(result.Program.Root, i).Words == 0; i--)
                reported.Add(i);
        return reported;
    }

    // The longest row of lines that both have in the same order.
    private static List<(int Wanted, int Made)> Same(Line[] wanted, Line[] made)
    {
        int[,] length = new int[wanted.Length + 1, made.Length + 1];
        for (int w = wanted.Length - 1; w >= 0; w--)
        for (int m = made.Length - 1; m >= 0; m--)
            length[w, m] = wanted[w].Is(made[m])
                ? length[w + 1, m + 1] + 1
                : Math.Max(length[w + 1, m], length[w, m + 1]);
        var pairs = new List<(int, int)>();
        for (int w = 0, m = 0; w < wanted.Length && m < made.Length; )
        {
            if (wanted[w].Is(made[m]))
                pairs.Add((w++, m++));
            else if (length[w + 1, m] >= length[w, m + 1])
                w++;
            else
                m++;
        }

        return pairs;
    }

    private sealed class Line
    {
        public Line(string text, bool isReported)
        {
            (Text, IsReported) = (text, isReported);
            Code = string.Concat(
                Lexer
                    .Lex(text)
                    .Where(t => t.Kind is not (TokenKind.Blank or TokenKind.Comment))
                    .Select(t =>
                        t.Kind is TokenKind.Text or TokenKind.Character
                            ? text.Substring(t.Start, t.Length)
                            : text.Substring(t.Start, t.Length).ToLowerInvariant()
                    )
            );
        }

        public string Text { get; }

        public bool IsReported { get; }

        /// <summary>The code without blanks, letters small outside of quotes.</summary>
        public string Code { get; }

        /// <summary>The names on it.</summary>
        public IEnumerable<string> Names =>
            Lexer.Lex(Text).Where(static t => t.Kind == TokenKind.Name).Select(t => Text.Substring(t.Start, t.Length));

        public bool Is(Line other) => Code.Length > 0 && Code == other.Code;
    }
}
