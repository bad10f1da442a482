using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>
/// Compares the words of a recovered program with the true ones, line by line, and finds those that differ without a
/// doubt, warning or error on the line that makes the difference. A word that follows a name is reported where the name is:
/// a label that moved with its instruction, a register after a line of its block that is reported.
/// </summary>
internal sealed class ReportedDifferences
{
    private readonly ProgramAnalysis truth;
    private readonly ProgramAnalysis recovered;
    private readonly HashSet<int> flagged;
    private readonly List<WordLine> wanted;
    private readonly List<WordLine> made;
    private readonly Dictionary<int, int> trueAddress = [];

    private ReportedDifferences(ProgramAnalysis truth, RecoveryResult result)
    {
        this.truth = truth;
        recovered = result.Program;
        flagged = [.. result.Entries.Where(e => e.Severity != Severity.Information).Select(e => e.Line)];
        // A name that nothing defines has one entry, which speaks of all lines that use it.
        foreach (Problem problem in result.Program.Problems)
            if (
                problem.Kind == Catalogue.UndefinedName
                && problem.Place.File == result.Program.Root
                && result.Entries.Any(e =>
                    e.Severity == Severity.Error
                    && e.Code == problem.Code
                    && e.Message.StartsWith(problem.Arguments[0] + " ", StringComparison.Ordinal)
                )
            )
                flagged.Add(problem.Place.Line);
        wanted = LinesOf(truth);
        made = LinesOf(recovered);
    }

    /// <summary>The differences that nothing reports; empty where the words are the same or every difference is reported.</summary>
    public static List<string> Silent(ProgramAnalysis truth, RecoveryResult result) =>
        new ReportedDifferences(truth, result).Find();

    private List<string> Find()
    {
        var silent = new List<string>();
        List<(int Wanted, int Made)> pairs = Pair();
        foreach ((int w, int m) in pairs)
        {
            if (w < 0 || m < 0)
                continue;
            for (int i = 0; i < Math.Min(wanted[w].Words.Count, made[m].Words.Count); i++)
                trueAddress.TryAdd(made[m].Words[i].Address, wanted[w].Words[i].Address);
        }

        int before = -1,
            shift = 0;
        bool callReported = false;
        for (int p = 0; p < pairs.Count; p++)
        {
            (int w, int m) = pairs[p];
            if (m < 0)
            {
                int next = recovered.Root.Text.LineCount;
                for (int q = p + 1; q < pairs.Count && next == recovered.Root.Text.LineCount; q++)
                    if (pairs[q].Made >= 0)
                        next = made[pairs[q].Made].Line;
                if (!IsReported(before, next))
                    silent.Add($"lost: {wanted[w].Code}");
                continue;
            }

            WordLine line = made[m];
            if (w < 0)
            {
                if (!flagged.Contains(line.Line))
                    silent.Add($"extra, line {line.Line + 1}: {line.Code}");
            }
            else
            {
                if (!flagged.Contains(line.Line) && !SameWords(wanted[w], line))
                    silent.Add($"other words, line {line.Line + 1}: {line.Code} instead of {wanted[w].Code}");
                int moved = line.Words[0].Address - wanted[w].Words[0].Address;
                // Back at the true address is right, whatever moved before.
                if (moved != shift && moved != 0 && !callReported && !IsReported(before, line.Line))
                    silent.Add($"other address, line {line.Line + 1}: {line.Code}");
                shift = moved;
                callReported = false;
            }

            // What follows a call may move by what is reported in the macro.
            before = line.Line;
            if (IsBodyReported(before, 0))
                callReported = true;
        }

        return silent;
    }

    private bool IsReported(int from, int to)
    {
        for (int line = Math.Max(0, from); line <= to + 1; line++)
            if (flagged.Contains(line))
                return true;
        return false;
    }

    private bool SameWords(WordLine wanted, WordLine made)
    {
        if (IsBodyReported(made.Line, 0))
            return true;
        if (wanted.Words.Count != made.Words.Count)
            return false;
        for (int i = 0; i < made.Words.Count; i++)
        {
            if (made.Words[i].Word == wanted.Words[i].Word)
                continue;
            WordOrigin origin = made.Words[i].Origin;
            var names = new List<string>();
            AddNames(names, origin.File.Text[origin.Line].Text);
            AddNames(names, origin.Outermost.File.Text[origin.Outermost.Line].Text);
            if (!names.Exists(n => IsReportedName(n, 0)))
                return false;
        }

        return true;
    }

    // The words of a macro's call, or of a loop, are those of its body: reported where a line of the body is.
    private bool IsBodyReported(int line, int depth)
    {
        LineSyntax syntax = recovered.SyntaxOf(recovered.Root, line);
        string word = syntax.Operation ?? syntax.Label ?? "";
        bool isLoop = string.Equals(syntax.Operation, "while", StringComparison.OrdinalIgnoreCase);
        int from =
            isLoop ? line
            : recovered.FindSymbol(word) is { Kind: SymbolKind.Macro } macro && macro.Definition.File == recovered.Root
                ? macro.Definition.Line
            : -1;
        if (from < 0)
            return false;
        for (int i = from; i < recovered.Root.Text.LineCount; i++)
        {
            if (flagged.Contains(i) || (i > from && depth < 4 && IsBodyReported(i, depth + 1)))
                return true;
            string operation = LineSyntax.Of(recovered.Root.Text[i]).Operation?.ToLowerInvariant() ?? "";
            if (operation == (isLoop ? "endw" : "endm"))
                return false;
        }

        return false;
    }

    private static void AddNames(List<string> names, string text)
    {
        foreach (SyntaxToken token in Lexer.Lex(text))
            if (token.Kind is TokenKind.Name or TokenKind.Here)
                names.Add(text.Substring(token.Start, token.Length));
    }

    // Whether the value of a name differs from the true one for a reason that is reported.
    private bool IsReportedName(string name, int depth)
    {
        if (name == "$")
            return true; // Follows its own line, whose address is looked at.
        Symbol? now = recovered.FindSymbol(name),
            then = truth.FindSymbol(name);
        if (now is null || then is null || now.Definition.File != recovered.Root)
            return false;
        if (now.Value == then.Value && now.Kind != SymbolKind.Define)
            return false;
        int line = now.Definition.Line;
        if (flagged.Contains(line))
            return true;
        switch (now.Kind)
        {
            case SymbolKind.Label:
                return trueAddress.TryGetValue(now.Value, out int address) && address == then.Value;
            case SymbolKind.BlockMember:
                for (int i = line; i >= 0; i--)
                {
                    if (flagged.Contains(i))
                        return true;
                    if (
                        string.Equals(
                            LineSyntax.Of(recovered.Root.Text[i]).Operation,
                            "cblock",
                            StringComparison.OrdinalIgnoreCase
                        )
                    )
                        return false;
                }

                return false;
            default:
                if (depth > 3)
                    return false;
                var names = new List<string>();
                AddNames(names, recovered.Root.Text[line].Text);
                return names.Exists(n => n != name && IsReportedName(n, depth + 1));
        }
    }

    // The cheapest way to pair the lines: the same text costs nothing, another text more, a line alone most.
    private List<(int Wanted, int Made)> Pair()
    {
        var cost = new int[wanted.Count + 1, made.Count + 1];
        for (int w = wanted.Count; w >= 0; w--)
        {
            for (int m = made.Count; m >= 0; m--)
            {
                if (w == wanted.Count || m == made.Count)
                    cost[w, m] = 10 * (wanted.Count - w + made.Count - m);
                else
                    cost[w, m] = Math.Min(
                        cost[w + 1, m + 1] + Distance(w, m),
                        10 + Math.Min(cost[w + 1, m], cost[w, m + 1])
                    );
            }
        }

        var pairs = new List<(int, int)>();
        for (int w = 0, m = 0; w < wanted.Count || m < made.Count; )
        {
            if (w < wanted.Count && m < made.Count && cost[w, m] == cost[w + 1, m + 1] + Distance(w, m))
                pairs.Add((w++, m++));
            else if (m < made.Count && cost[w, m] == 10 + cost[w, m + 1])
                pairs.Add((-1, m++));
            else
                pairs.Add((w++, -1));
        }

        return pairs;
    }

    private int Distance(int w, int m)
    {
        string a = wanted[w].Code,
            b = made[m].Code;
        if (a == b)
            return 0;
        int common = 0;
        while (common < a.Length && common < b.Length && a[common] == b[common])
            common++;
        int tail = 0;
        while (tail < a.Length - common && tail < b.Length - common && a[^(tail + 1)] == b[^(tail + 1)])
            tail++;
        return (common + tail) * 2 >= Math.Max(a.Length, b.Length) ? 6 : 17;
    }

    private static List<WordLine> LinesOf(ProgramAnalysis program)
    {
        var lines = new Dictionary<int, WordLine>();
        foreach ((int address, ushort word, WordOrigin origin) in program.Image.Words)
        {
            (SourceFile file, int line) = origin.Outermost;
            // What an included file makes belongs to the line that includes it.
            while (file != program.Root && program.Includes.FirstOrDefault(i => i.File == file) is { } include)
                (file, line) = (include.Place.File, include.Place.Line);
            if (!lines.TryGetValue(line, out WordLine? made))
                lines.Add(line, made = new WordLine(line, CodeOf(file.Text[line].Text), []));
            made.Words.Add((address, word, origin));
        }

        return [.. lines.Values.OrderBy(l => l.Line)];
    }

    private static string CodeOf(string text)
    {
        LineSyntax syntax = LineSyntax.Parse(text);
        return string.Concat(
                text.Substring(syntax.CodeSpan.Start, syntax.CodeSpan.Length).Where(c => !char.IsWhiteSpace(c))
            )
            .ToLowerInvariant();
    }

    private sealed record WordLine(int Line, string Code, List<(int Address, ushort Word, WordOrigin Origin)> Words);
}
