using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Fixes;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
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
            if (lines[i].Address >= 0) printed.TryAdd(lines[i].Address, (lines[i].Word, i));
            foreach ((int address, int word) in lines[i].MoreWords) printed.TryAdd(address, (word, i));
        }

        if (printed.Count == 0) return result;

        PrintedAddresses addresses = PrintedAddresses.Of(result, lines);
        Dictionary<PrintedPlace, int> lineOf = MissingPieces.LinesByPlace(result);
        int agree = 0;
        var doubts = new SortedDictionary<int, Doubt>();
        var entries = new List<RecoveryEntry>();
        foreach ((int address, (int printedWord, int index)) in printed)
        {
            ListingLine line = lines[index];
            int source = line.Origin.IsNone ? 0 : lineOf.GetValueOrDefault(line.Origin.Places[0]);
            if (!result.Program.Image.TryGet(address - addresses.ShiftOf(index), out ushort word, out WordOrigin origin))
            {
                entries.Add(new RecoveryEntry(source, 0, result.Source[source].Text.Length, Severity.Warning, DocumentCodes.PrintedWordDiffers,
                    $"The printed listing has {Hex(printedWord)} at {Hex(address)}, and nothing is built there: '{line.Text.Trim()}'. Compare the lines around it with the page.", line.Page));
                continue;
            }

            if (word == printedWord || IsMovedJump(word, printedWord, addresses))
            {
                agree++;
                continue;
            }

            (SourceFile file, int at) = origin.Outermost;
            bool own = file.Name == result.Program.Root.Name;
            string message = $"The printed listing has {Hex(printedWord)} at {Hex(address)}, but this line gives {Hex(word)}. Compare it with the page.";
            entries.Add(new RecoveryEntry(own ? at : source, 0, result.Source[own ? at : source].Text.Length, Severity.Warning, DocumentCodes.PrintedWordDiffers, message, line.Page));
            if (own) doubts.TryAdd(at, new Doubt($"the page prints {Hex(printedWord)} here") { Alternatives = Reading(result.Source[at].Text, printedWord), Place = result.Origins[at].ToString() });
        }

        if (agree > 0)
            entries.Add(new RecoveryEntry(0, 0, 0, Severity.Information, DocumentCodes.PrintedWordsAgree, $"{agree} of {printed.Count} words printed beside the program are what it gives.", null));
        result = DoubtMarks.Add(result, doubts, entries);
        HashSet<ListingLine> told = [.. missing.Select(static m => m.Behind)];
        return MissingPieces.Mark(result, [.. addresses.Missing.Where(m => !told.Contains(m.Behind))]);
    }

    // 'call' and 'goto' (their upper bits: DS30292C, table 13-2) to a place that lies too low because words above it are missing.
    private static bool IsMovedJump(int word, int printed, PrintedAddresses addresses) =>
        word is >= 0x2000 and < 0x3000 && (word & 0x3800) == (printed & 0x3800) && addresses.BuiltAt(printed & 0x7FF) is { } built && built != (printed & 0x7FF) && built == (word & 0x7FF);

    // The line as its printed word has it, where the number on it is all that differs: one digit was misread most likely.
    private static ImmutableArray<string> Reading(string text, int word)
    {
        LineSyntax syntax = LineSyntax.Parse(text);
        if (syntax.Operation is not { } operation || InstructionSet.Decode(word) is not { Instruction.Operands: OperandKind.Literal8 } decoded) return [];
        if (!operation.Equals(decoded.Instruction.Name, StringComparison.OrdinalIgnoreCase) || LineSyntax.Parse(" " + syntax.OperandText).AllTokens is not [_, { Kind: TokenKind.Number }]) return [];
        string code = $"{operation} 0x{decoded.First.ToString("X2", CultureInfo.InvariantCulture)}";
        return [syntax.Label is { } label ? $"{label} {code}" : " " + code];
    }

    private static string Hex(int value) => "0x" + value.ToString("X4", CultureInfo.InvariantCulture);
}
