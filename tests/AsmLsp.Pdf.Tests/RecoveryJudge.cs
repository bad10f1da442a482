using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf.Tests;

/// <summary>How a recovered program stands to the one that was printed.</summary>
internal enum Outcome
{
    /// <summary>The same words at the same addresses.</summary>
    Identical,

    /// <summary>Words differ, and each of them is pointed at.</summary>
    Flagged,

    /// <summary>A word differs, and nothing says so: the defect that must not be.</summary>
    Silent,
}

/// <summary>
/// Holds a recovered program against the one that was printed. A word that differs or came to it is told when the line that makes it,
/// or that defines a name on it (or stands above the name in its block), has a warning, an error or the mark of a doubt; a word that is missing, when one stands where the word
/// ought to be, one line off at most, or a warning quotes its line.
/// </summary>
internal static class RecoveryJudge
{
    /// <summary>The outcome, and the words that nobody is told of.</summary>
    public static (Outcome Outcome, List<string> Untold) Judge(ProgramAnalysis truth, RecoveryResult result)
    {
        Made[] wanted = [.. Made.Of(truth)], got = [.. Made.Of(result.Program)];
        if (wanted.Select(m => (m.Address, m.Word)).SequenceEqual(got.Select(m => (m.Address, m.Word)))) return (Outcome.Identical, []);
        var untold = new List<string>();
        bool[] told = Told(result);
        bool moved = !wanted.Select(m => m.Address).SequenceEqual(got.Select(m => m.Address));
        int lastLine = -1;
        List<(int Wanted, int Got)> pairs = moved ? Pair(wanted, got) : [.. Enumerable.Range(0, wanted.Length).Select(i => (i, i))];
        for (int p = 0; p < pairs.Count; p++)
        {
            (int w, int g) = pairs[p];
            if (g < 0)
            {
                int next = pairs.Skip(p).Select(q => q.Got).FirstOrDefault(q => q >= 0, -1);
                int nextLine = next >= 0 ? got[next].Line : result.Source.LineCount - 1;
                // Words of an earlier place, as behind an 'org' that goes back, have the lines the other way round.
                (int from, int to) = nextLine >= lastLine ? (lastLine, nextLine) : (nextLine, lastLine);
                if (!AnyTold(told, from - 1, to + 1) && !IsQuoted(result, truth.Root.Text[wanted[w].Line].Text) && !Resemblance.IsTold(result, told, truth.Root.Text[wanted[w].Line].Text, lastLine) && !Resemblance.IsTold(result, told, truth.Root.Text[wanted[w].BodyLine].Text, wanted[w].BodyLine))
                    untold.Add(string.Create(CultureInfo.InvariantCulture, $"missing {wanted[w]}"));
                continue;
            }

            lastLine = got[g].Line;
            // Behind a word too few or too many, jumps go elsewhere and are right.
            bool same = w >= 0 && (moved ? wanted[w].Key == got[g].Key : wanted[w].Word == got[g].Word);
            if (!same && !IsTold(result, told, got[g])) untold.Add(string.Create(CultureInfo.InvariantCulture, $"{(w < 0 ? "extra" : $"instead of {wanted[w]}:")} {got[g]}"));
        }

        if (moved && untold.Count == 0 && pairs.All(p => p.Wanted >= 0 && p.Got >= 0) && !told.Contains(true)) untold.Add("The program lies at other addresses.");
        return (untold.Count == 0 ? Outcome.Flagged : Outcome.Silent, untold);
    }

    private static bool[] Told(RecoveryResult result)
    {
        bool[] told = new bool[result.Source.LineCount];
        for (int i = 0; i < told.Length; i++) told[i] = DoubtMarker.Find(result.Source[i].Text) is not null;
        // An entry about the whole document stands at the first line and means no line.
        foreach (RecoveryEntry entry in result.Entries)
            if (entry.Severity != Severity.Information && (entry.Line > 0 || entry.EndColumn > 0)) told[Math.Min(entry.Line, told.Length - 1)] = true;
        return told;
    }

    private static bool AnyTold(bool[] told, int from, int to)
    {
        for (int i = Math.Max(0, from); i <= Math.Min(told.Length - 1, to); i++) if (told[i]) return true;
        return false;
    }

    private static bool IsQuoted(RecoveryResult result, string line) =>
        line.Split(';')[0].Trim() is { Length: > 2 } code && result.Entries.Any(e => e.Severity != Severity.Information && e.Message.Contains(code, StringComparison.OrdinalIgnoreCase));

    private static bool IsTold(RecoveryResult result, bool[] told, Made made)
    {
        if (told[made.Line] || told[made.BodyLine]) return true;
        foreach (int line in (int[])[made.Line, made.BodyLine])
        {
            string text = result.Source[line].Text;
            foreach (SyntaxToken token in LineSyntax.Parse(text).AllTokens)
            {
                if (token.Kind != TokenKind.Name) continue;
                string name = text.Substring(token.Start, token.Length);
                if (result.Program.Symbols.Any(s => s.Name == name && s.Definition.File == result.Program.Root && IsDefinitionTold(result, told, s.Definition.Line))) return true;
            }
        }

        return false;
    }

    // A name in a block takes the register behind the one above it: a doubt there is one about all that follow.
    private static bool IsDefinitionTold(RecoveryResult result, bool[] told, int line)
    {
        bool doubted = told[line];
        for (int i = line - 1; i >= 0 && !doubted; i--)
        {
            string operation = LineSyntax.Parse(result.Source[i].Text).Operation?.ToLowerInvariant() ?? "";
            if (operation == "endc") return false;
            doubted = told[i] && IsInBlock(result, line);
            if (operation == "cblock") return doubted;
        }

        return doubted;
    }

    private static bool IsInBlock(RecoveryResult result, int line)
    {
        for (int i = line; i >= 0; i--)
        {
            string operation = LineSyntax.Parse(result.Source[i].Text).Operation?.ToLowerInvariant() ?? "";
            if (operation is "cblock" or "endc") return operation == "cblock";
        }

        return false;
    }

    // The longest row of words that both have in the same order.
    private static List<(int Wanted, int Got)> Pair(Made[] wanted, Made[] got)
    {
        int[,] length = new int[wanted.Length + 1, got.Length + 1];
        for (int w = wanted.Length - 1; w >= 0; w--)
            for (int g = got.Length - 1; g >= 0; g--)
                length[w, g] = wanted[w].Key == got[g].Key ? length[w + 1, g + 1] + 1 : Math.Max(length[w + 1, g], length[w, g + 1]);
        var pairs = new List<(int, int)>();
        int i = 0, j = 0;
        while (i < wanted.Length || j < got.Length)
        {
            if (i < wanted.Length && j < got.Length && wanted[i].Key == got[j].Key) pairs.Add((i++, j++));
            else if (j == got.Length || (i < wanted.Length && length[i + 1, j] >= length[i, j + 1])) pairs.Add((i++, -1));
            else pairs.Add((-1, j++));
        }

        return pairs;
    }

    /// <summary>A word that a program makes.</summary>
    /// <param name="Address">Where it lies.</param>
    /// <param name="Word">The word.</param>
    /// <param name="Line">The line of the source, or of its call, from 0.</param>
    /// <param name="BodyLine">The line that it is written on, which may be one of a macro.</param>
    /// <param name="Code">What is written there.</param>
    private sealed record Made(int Address, ushort Word, int Line, int BodyLine, string Code)
    {
        /// <summary>What stays the same when the program moves: 'call' and 'goto' (their three highest bits: DS30292C, instruction set) by what is written, all others by the word.</summary>
        public (int, string) Key => Word is >= 0x2000 and < 0x3000 && Address < 0x2000 ? (Word & 0x3800, Resemblance.ShapesOf(Code)) : (Word, "");

        public static IEnumerable<Made> Of(ProgramAnalysis program)
        {
            foreach ((int address, ushort word, WordOrigin origin) in program.Image.Words)
            {
                int line = origin.Outermost.File == program.Root ? origin.Outermost.Line : 0;
                int body = origin.File == program.Root ? origin.Line : line;
                LineSyntax syntax = LineSyntax.Parse(program.Root.Text[body].Text);
                yield return new Made(address, word, line, body, (syntax.Operation + " " + syntax.OperandText.Trim()).ToLowerInvariant());
            }
        }

        public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Address:X4} {Word:X4} (line {Line + 1}: {Code})");
    }
}
