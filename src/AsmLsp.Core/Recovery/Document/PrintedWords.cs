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
    public static RecoveryResult Compare(RecoveryResult result, List<ListingLine> lines)
    {
        var printed = new SortedDictionary<int, (int Word, ListingLine Line)>();
        foreach (ListingLine line in lines)
        {
            if (line.Address >= 0) printed.TryAdd(line.Address, (line.Word, line));
            foreach ((int address, int word) in line.MoreWords) printed.TryAdd(address, (word, line));
        }

        if (printed.Count == 0) return result;

        int agree = 0;
        var doubts = new SortedDictionary<int, Doubt>();
        var entries = new List<RecoveryEntry>();
        foreach ((int address, (int printedWord, ListingLine line)) in printed)
        {
            if (!result.Program.Image.TryGet(address, out ushort word, out WordOrigin origin))
            {
                entries.Add(new RecoveryEntry(0, 0, 0, Severity.Warning, DocumentCodes.PrintedWordDiffers,
                    $"The printed listing has {Hex(printedWord)} at {Hex(address)}, and nothing is built there: '{line.Text.Trim()}'. Compare the lines around it with the page.", line.Page));
                continue;
            }

            if (word == printedWord)
            {
                agree++;
                continue;
            }

            (SourceFile file, int at) = origin.Outermost;
            bool own = file.Name == result.Program.Root.Name;
            string message = $"The printed listing has {Hex(printedWord)} at {Hex(address)}, but this line gives {Hex(word)}. Compare it with the page.";
            entries.Add(new RecoveryEntry(own ? at : 0, 0, own ? result.Source[at].Text.Length : 0, Severity.Warning, DocumentCodes.PrintedWordDiffers, message, line.Page));
            if (own) doubts.TryAdd(at, new Doubt($"the page prints {Hex(printedWord)} here") { Alternatives = Reading(result.Source[at].Text, printedWord), Place = result.Origins[at].ToString() });
        }

        if (agree > 0)
            entries.Add(new RecoveryEntry(0, 0, 0, Severity.Information, DocumentCodes.PrintedWordsAgree, $"{agree} of {printed.Count} words printed beside the program are what it gives.", null));
        return DoubtMarks.Add(result, doubts, entries);
    }

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
