using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Steps;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Document;

/// <summary>
/// Compares the words that a listing prints in front of its lines with those that its lines give: a second account of
/// the same program, by which a misread digit shows.
/// </summary>
internal static class PrintedWords
{
    /// <summary>Adds a doubt to each line whose word is printed otherwise, and one entry for all that agree.</summary>
    /// <param name="result">The recovered source.</param>
    /// <param name="lines">The lines of the listing, with what is printed in front of them.</param>
    /// <param name="missing">What is known to be missing already.</param>
    public static RecoveryResult Compare(RecoveryResult result, List<ListingLine> lines, List<MissingPiece> missing)
    {
        var printed = new SortedDictionary<int, (int Word, int Line)>();
        for (int i = 0; i < lines.Count; i++)
        {
            if (lines[i].Address >= 0)
                printed.TryAdd(lines[i].Address, (lines[i].Word, i));
            foreach ((int address, int word) in lines[i].MoreWords)
                printed.TryAdd(address, (word, i));
        }

        if (printed.Count == 0)
            return result;

        result = PrintedReading.Apply(result, lines);
        PrintedAddresses addresses = PrintedAddresses.Of(result, lines);
        Dictionary<PrintedPlace, int> lineOf = MissingPieces.LinesByPlace(result);
        int agree = 0;
        var right = new HashSet<int>();
        var wrong = new List<int>();
        var doubts = new SortedDictionary<int, Doubt>();
        var entries = new List<RecoveryEntry>();
        foreach ((int address, (int printedWord, int index)) in printed)
        {
            ListingLine line = lines[index];
            int source = line.Origin.IsNone ? 0 : lineOf.GetValueOrDefault(line.Origin.Places[0]);
            if (
                !result.Program.Image.TryGet(address - addresses.ShiftOf(index), out ushort word, out WordOrigin origin)
            )
            {
                entries.Add(
                    new RecoveryEntry(
                        source,
                        0,
                        result.Source[source].Text.Length,
                        Severity.Warning,
                        DocumentCodes.PrintedWordDiffers,
                        $"The printed listing has {Hex(printedWord)} at {Hex(address)}, and nothing is built there: '{line.Text.Trim()}'. Compare the lines around it with the page.",
                        line.Page
                    )
                );
                continue;
            }

            if (word == printedWord || IsMovedJump(word, printedWord, addresses))
            {
                agree++;
                right.Add(origin.Outermost.Line);
                continue;
            }

            (SourceFile file, int at) = origin.Outermost;
            bool own = file.Name == result.Program.Root.Name;
            string message =
                $"The printed listing has {Hex(printedWord)} at {Hex(address)}, but this line gives {Hex(word)}.{DigitOf(printedWord, word)} Compare it with the page.";
            entries.Add(
                new RecoveryEntry(
                    own ? at : source,
                    0,
                    result.Source[own ? at : source].Text.Length,
                    Severity.Warning,
                    DocumentCodes.PrintedWordDiffers,
                    message,
                    line.Page
                )
            );
            if (own)
                wrong.Add(at);
            if (own)
                doubts.TryAdd(
                    at,
                    new Doubt($"the page prints {Hex(printedWord)} here")
                    {
                        Alternatives = Reading(result.Source[at].Text, printedWord),
                        Place = result.Origins[at].ToString(),
                    }
                );
        }

        AddDefinitions(result, right, wrong, doubts, entries);
        if (agree > 0)
            entries.Add(
                new RecoveryEntry(
                    0,
                    0,
                    0,
                    Severity.Information,
                    DocumentCodes.PrintedWordsAgree,
                    $"{agree} of {printed.Count} words printed beside the program are what it gives.",
                    null
                )
            );
        result = DoubtMarks.Add(result, doubts, entries);
        HashSet<ListingLine> told = [.. missing.Select(static m => m.Behind)];
        return MissingPieces.Mark(result, [.. addresses.Missing.Where(m => !told.Contains(m.Behind))]);
    }

    // A name whose lines are all printed otherwise has another value on the page.
    private static void AddDefinitions(
        RecoveryResult result,
        HashSet<int> right,
        List<int> wrong,
        SortedDictionary<int, Doubt> doubts,
        List<RecoveryEntry> entries
    )
    {
        HashSet<string> agreed = new(StringComparer.Ordinal),
            told = new(StringComparer.Ordinal);
        foreach (int line in right)
            agreed.UnionWith(NamesOn(result, line));
        foreach (int line in wrong)
        {
            foreach (string name in NamesOn(result, line))
            {
                if (
                    agreed.Contains(name)
                    || !told.Add(name)
                    || result.Program.FindSymbol(name)
                        is not { Kind: SymbolKind.Constant or SymbolKind.BlockMember or SymbolKind.Define } symbol
                    || symbol.Definition.File != result.Program.Root
                )
                    continue;
                int at = symbol.Definition.Line;
                doubts.TryAdd(
                    at,
                    new Doubt($"the words printed beside {name} are others") { Place = result.Origins[at].ToString() }
                );
                entries.Add(
                    new RecoveryEntry(
                        at,
                        0,
                        result.Source[at].Text.Length,
                        Severity.Warning,
                        DocumentCodes.PrintedWordDiffers,
                        $"No line that uses {name} gives the word that is printed beside it. Compare this line with the page, too: {name} may have another value.",
                        result.Origins[at].Page > 0 ? result.Origins[at].Page : null
                    )
                );
            }
        }
    }

    private static IEnumerable<string> NamesOn(RecoveryResult result, int line)
    {
        LineSyntax syntax = LineSyntax.Of(result.Source[line]);
        for (int t = Math.Max(0, syntax.FirstOperandToken); t < syntax.EndOfCode; t++)
            if (syntax.Tokens[t].Kind == TokenKind.Name)
                yield return syntax.TextOf(t);
    }

    // Where one digit is all that differs, and the two look alike, the word may be the misread one as well as the line.
    private static string DigitOf(int printed, int built)
    {
        string a = printed.ToString("X4", CultureInfo.InvariantCulture),
            b = built.ToString("X4", CultureInfo.InvariantCulture);
        int at = -1;
        for (int i = 0; i < a.Length; i++)
        {
            if (a[i] == b[i])
                continue;
            if (at >= 0 || !GlyphConfusion.Alike(a[i], b[i]))
                return "";
            at = i;
        }

        return at < 0
            ? ""
            : string.Create(
                CultureInfo.InvariantCulture,
                $" Digit {at + 1} of the printed word is all that differs: is it {a[at]} or {b[at]}? Either the word or the line was misread."
            );
    }

    // 'call' and 'goto' (their upper bits: DS30292C, table 13-2) to a place that lies too low because words above it are missing.
    private static bool IsMovedJump(int word, int printed, PrintedAddresses addresses) =>
        word is >= 0x2000 and < 0x3000
        && (word & 0x3800) == (printed & 0x3800)
        && addresses.BuiltAt(printed & 0x7FF) is { } built
        && built != (printed & 0x7FF)
        && built == (word & 0x7FF);

    // The line as its printed word has it, where the number on it is all that differs: one digit was misread most likely.
    private static ImmutableArray<string> Reading(string text, int word)
    {
        LineSyntax syntax = LineSyntax.Parse(text);
        if (
            syntax.Operation is not { } operation
            || InstructionSet.Decode(word) is not { Instruction.Operands: OperandKind.Literal8 } decoded
        )
            return [];
        if (
            !operation.Equals(decoded.Instruction.Name, StringComparison.OrdinalIgnoreCase)
            || LineSyntax.Parse(" " + syntax.OperandText).AllTokens is not [_, { Kind: TokenKind.Number }]
        )
            return [];
        string code = $"{operation} 0x{decoded.First.ToString("X2", CultureInfo.InvariantCulture)}";
        return [syntax.Label is { } label ? $"{label} {code}" : " " + code];
    }

    private static string Hex(int value) => "0x" + value.ToString("X4", CultureInfo.InvariantCulture);
}
