using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Evidence;

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
        if (!lines.Exists(static l => l.HasWord || !l.MoreWords.IsEmpty))
            return result;

        result = LabelsByWords.Apply(PrintedWordFix.Apply(result, lines), lines);
        PrintedAddresses addresses = PrintedAddresses.Of(result, lines);
        Dictionary<PrintedPlace, int> lineOf = MissingPieces.LinesByPlace(result);
        Dictionary<int, List<int>> built = RowProof.Collect(result.Program);
        int agree = 0,
            all = 0;
        var right = new HashSet<int>();
        var wrong = new List<int>();
        var doubts = new SortedDictionary<int, Doubt>();
        var entries = new List<RecoveryEntry>();
        HashSet<int> unknown = LinesWithLostNames(result);
        // Each row is compared with what its own line gives: a word too many or too few moves no other.
        var taken = new Dictionary<int, int>();
        for (int index = 0; index < lines.Count; index++)
        {
            ListingLine line = lines[index];
            (int Address, int Word)[] printed = WordsOf(line);
            if (printed.Length == 0)
                continue;
            all += printed.Length;
            int at = line.Origin.IsNone ? 0 : lineOf.GetValueOrDefault(line.Origin.Places[0]);
            List<int> made = built.GetValueOrDefault(at) ?? [];
            // Rows that were made one line have their words one after the other.
            int from = taken.GetValueOrDefault(at);
            taken[at] = from + printed.Length;
            for (int i = 0; i < printed.Length; i++)
            {
                (int address, int word) = printed[i];
                // Some listings print a word beside the line below or above the one that gives it: then its address says.
                bool isThere =
                    address >= 0
                    && result.Program.Image.TryGet(address - addresses.ShiftOf(index), out ushort there, out _)
                    && there == word;
                if (from + i >= made.Count && isThere)
                {
                    agree++;
                    continue;
                }

                if (from + i >= made.Count)
                {
                    entries.Add(
                        new RecoveryEntry(
                            at,
                            0,
                            result.Source[at].Text.Length,
                            Severity.Warning,
                            DocumentCodes.PrintedWordDiffers,
                            $"The printed listing has {Hex(word)}{(address < 0 ? "" : $" at {Hex(address)}")}, and this line does not give it: '{line.Text.Trim()}'. Compare the line with the page.",
                            line.Page
                        )
                    );
                    break;
                }

                int gives = made[from + i];
                if (word < 0 || gives == word || isThere || IsMovedJump(gives, word, addresses))
                {
                    agree++;
                    right.Add(at);
                    continue;
                }

                // The name that the line lacks is reported where its definition is lost; all else on it is as printed.
                if (unknown.Contains(at) && IsSameButForName(gives, word))
                    continue;
                entries.Add(
                    new RecoveryEntry(
                        at,
                        0,
                        result.Source[at].Text.Length,
                        Severity.Warning,
                        DocumentCodes.PrintedWordDiffers,
                        $"The printed listing has {Hex(word)}{(address < 0 ? "" : $" at {Hex(address)}")}, but this line gives {Hex(gives)}.{DigitOf(word, gives)} Compare it with the page.",
                        line.Page
                    )
                );
                wrong.Add(at);
                doubts.TryAdd(
                    at,
                    new Doubt($"the page prints {Hex(word)} here")
                    {
                        Alternatives = Reading(result.Source[at].Text, word),
                        Kind = DoubtKind.PrintedWord,
                        Origin = RecoveredDoubts.OriginOf(result, at),
                        Evidence = DocumentCodes.PrintedWordDiffers,
                    }
                );
                break;
            }
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
                    $"{agree} of {all} words printed beside the program are what it gives.",
                    null
                )
            );
        result = RecoveredDoubts.Add(result, doubts, entries);
        HashSet<ListingLine> reported = [.. missing.Select(static m => m.After)];
        return MissingPieces.Mark(result, [.. addresses.Missing.Where(m => !reported.Contains(m.After))]);
    }

    // Lines with a name that nothing defines and that other lines have, too, or that is jumped to: its definition was lost. What is
    // there once may be a number that was misread.
    private static HashSet<int> LinesWithLostNames(RecoveryResult result)
    {
        Problem[] undefined =
        [
            .. result.Program.Problems.Where(p =>
                p.Kind == Catalogue.UndefinedName && p.Place.File == result.Program.Root
            ),
        ];
        var uses = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (Problem problem in undefined)
            uses[problem.Arguments[0]] = uses.GetValueOrDefault(problem.Arguments[0]) + 1;
        return
        [
            .. undefined
                .Where(p =>
                    uses[p.Arguments[0]] > 1
                    || LineSyntax.Of(result.Source[p.Place.Line]).Operation is { } operation
                        && InstructionSet.Find(operation) is { Operands: OperandKind.Address11 }
                )
                .Select(static p => p.Place.Line),
        ];
    }

    // The same operation with the same destination or bit: what differs is the operand that a name gives.
    private static bool IsSameButForName(int gives, int printed) =>
        InstructionSet.Decode(gives) is { } built
        && InstructionSet.Decode(printed) is { } read
        && built.Instruction == read.Instruction
        && built.Instruction.Operands != OperandKind.None
        && built.Second == read.Second;

    private static (int Address, int Word)[] WordsOf(ListingLine line) =>
        line.HasWord ? [(line.Address, line.Word), .. line.MoreWords] : [.. line.MoreWords];

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
            reported = new(StringComparer.Ordinal);
        foreach (int line in right)
            agreed.UnionWith(NamesOn(result, line));
        foreach (int line in wrong)
        {
            foreach (string name in NamesOn(result, line))
            {
                if (
                    agreed.Contains(name)
                    || !reported.Add(name)
                    || result.Program.FindSymbol(name)
                        is not { Kind: SymbolKind.Constant or SymbolKind.BlockMember or SymbolKind.Define } symbol
                    || symbol.Definition.File != result.Program.Root
                )
                    continue;
                int at = symbol.Definition.Line;
                doubts.TryAdd(
                    at,
                    new Doubt($"the words printed beside {name} are others")
                    {
                        Kind = DoubtKind.PrintedWord,
                        Origin = RecoveredDoubts.OriginOf(result, at),
                        Evidence = DocumentCodes.PrintedWordDiffers,
                    }
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
