using AsmLsp.Core.Instructions;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Finds the remarks of a listing that are printed in a column of their own without a <c>;</c>: words after a gap after a whole statement. Such words make
/// nothing, so a sign in front of them changes nothing, and the line reads as it is meant.
/// </summary>
internal static class UnsignedRemarks
{
    // A column of remarks has several; a single one can be anything.
    private const int Least = 2;

    // No sentence leaves so many blanks between two words.
    private const int Gap = 2;

    /// <summary>The lines with a <c>;</c> in front of each remark, and those that got one.</summary>
    public static (List<ListingLine> Lines, List<ListingLine> Signed) Sign(List<ListingLine> lines)
    {
        var found = new List<(int Line, int Column)>();
        int sentences = 0;
        HashSet<string>? names = null;
        for (int i = 0; i < lines.Count; i++)
        {
            if (lines[i].Printed is null || lines[i].IsProse || Find(lines[i].Text) is not { } column)
                continue;
            string rest = lines[i].Text[column..].Trim();
            if (rest.Contains(' ', StringComparison.Ordinal))
                sentences++;
            else if ((names ??= NamesOf(lines)).Contains(rest))
                continue;
            found.Add((i, column));
        }

        if (found.Count < Least || sentences == 0)
            return (lines, []);
        var result = new List<ListingLine>(lines);
        var signed = new List<ListingLine>(found.Count);
        foreach ((int line, int column) in found)
        {
            result[line] = result[line] with { Text = result[line].Text.Insert(column, "; ") };
            signed.Add(result[line]);
        }

        return (result, signed);
    }

    /// <summary>The column at which a remark without a sign starts, or null.</summary>
    private static int? Find(string text)
    {
        string plain = AssemblyLook.Plain(text);
        if (plain.Contains(';', StringComparison.Ordinal))
            return null;
        for (int i = 1; i + Gap < plain.Length; i++)
        {
            if (plain[i] != ' ' || plain[i - 1] == ' ' || plain[i + 1] != ' ')
                continue;
            int column = i;
            while (column < plain.Length && plain[column] == ' ')
                column++;
            if (column == plain.Length)
                return null;
            if (IsWhole(plain[..i]))
                return IsRemark(plain[column..].TrimEnd(), LineSyntax.Parse(plain[..i])) ? column : null;
        }

        return null;
    }

    // A statement to which nothing can be added. An expression that breaks off continues after the gap.
    private static bool IsWhole(string text)
    {
        LineSyntax syntax = LineSyntax.Parse(text);
        if (
            !CodeShape.IsCode(syntax)
            || text[^1] is ',' or '+' or '-' or '*' or '/' or '&' or '|' or '^' or '(' or '=' or '<' or '>'
        )
            return false;
        return syntax.OperationKind switch
        {
            OperationKind.Instruction => syntax.Operands.Length >= Operands(syntax.Operation ?? ""),
            OperationKind.Assignment => syntax.Operands.Length > 0,
            _ => syntax.OperandText.Length > 0
                && syntax.Keyword
                    is Keyword.List
                        or Keyword.Processor
                        or Keyword.Include
                        or Keyword.Org
                        or Keyword.Configuration
                        or Keyword.Reserve,
        };
    }

    // Where the destination may be left out, what follows the gap may be the destination whose comma was lost.
    private static int Operands(string operation) =>
        (
            InstructionSet.Find(operation) is { } instruction ? instruction.Operands
            : Shorthand.Find(operation) is { } shorthand ? shorthand.Operands
            : OperandKind.None
        ) switch
        {
            OperandKind.None => 0,
            OperandKind.RegisterDestination or OperandKind.RegisterBit => 2,
            _ => 1,
        };

    // Words of a sentence. Where an operation is among them that is no word of sentences, a line of another column can be meant.
    private static bool IsRemark(string rest, LineSyntax statement)
    {
        if (
            !char.IsLetter(rest[0])
            || statement.Keyword == Keyword.List && rest.Contains('=', StringComparison.Ordinal)
        )
            return false;
        bool isWord = false,
            startsAsStatement = false;
        int words = 0;
        foreach (Range range in rest.AsSpan().Split(' '))
        {
            ReadOnlySpan<char> word = rest.AsSpan()[range].Trim(",.:()!?");
            if (word.IsEmpty)
                continue;
            isWord |= word.Length > 1 && !word.ContainsAnyExcept(Letters(word));
            words++;
            if (OperationWords.Find(word) is not { } operation)
                continue;
            if (!operation.Has(WordTraits.Natural))
                return false;
            startsAsStatement |= words == 1;
        }

        // 'b port as output' is a sentence, 'b start' an instruction.
        return isWord && (!startsAsStatement || words > 2);
    }

    private static ReadOnlySpan<char> Letters(ReadOnlySpan<char> word)
    {
        int end = 0;
        while (end < word.Length && char.IsLetter(word[end]))
            end++;
        return word[..end];
    }

    // What the listing calls something is no word of a remark by itself.
    private static HashSet<string> NamesOf(List<ListingLine> lines)
    {
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (ListingLine line in lines)
        {
            LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(line.Text));
            if (syntax.Label is { } label)
                names.Add(label);
            // The remark itself is among what follows an operation: what only it says is no name.
            if (syntax.OperationToken >= 0 && syntax.Operands is [{ Leftover.Length: 0 }, ..])
                foreach (SyntaxToken token in Lexer.Lex(syntax.OperandText))
                    if (token.Kind == TokenKind.Name)
                        names.Add(syntax.OperandText.Substring(token.Start, token.Length));
        }

        return names;
    }
}
