using AsmLsp.Core.Instructions;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Ocr;

/// <summary>
/// The sign <c>;</c> that OCR read as another one: <c>movwf PORTB   7lamp on</c>, <c>#turn the pump off now</c>. It is taken for what it is where the statement in
/// front of it is whole and what follows can belong to none, and where a row is a sentence or a ruled line.
/// </summary>
internal static class MisreadRemarks
{
    // What is read for the sign (measured: 7 and 3 in fonts with long commas, the others where the ink ran).
    private const string Signs = "73#+*=:?!}{]\u00A7\u00BB\u00AB",
        Letters = "jizJ",
        NoOperator = "}{]\u00A7\u00BB\u00AB?!";

    private const int WideGap = 3,
        LeastInstruction = 4;

    // A ruled line has at least so many characters; of so few kinds where its signs were read as letters.
    private const int LeastRule = 16,
        LeastGarbage = 30,
        KindsOfGarbage = 9;

    /// <summary>Puts the sign back into the rows.</summary>
    public static void Correct(List<PrintedLine> rows)
    {
        for (int i = 0; i < rows.Count; i++)
        {
            PrintedLine line = rows[i];
            if (!line.IsOcr)
                continue;
            int at = AfterStatement(line.Text);
            if (at < 0)
                at = AtStart(line.Text);
            if (at < 0 && IsRule(line.Text))
                at = line.Text.Length - line.Text.AsSpan().TrimStart().Length;
            if (at < 0 && IsLoneSign(line.Text) && IsBetweenRemarks(rows, i))
                at = line.Text.Length - 1;
            if (at >= 0 && line.Text[at] != ';')
                rows[i] = OcrEdit.Replace(line, at, ';');
        }
    }

    /// <summary>The column of a misread sign after a whole statement, or -1.</summary>
    public static int AfterStatement(string text)
    {
        int end = MisreadCharacters.CodeEnd(text);
        for (int i = 2; i + 1 < text.Length && i < end; i++)
        {
            bool isLetter = Letters.Contains(text[i], StringComparison.Ordinal);
            if (text[i - 1] != ' ' || (!isLetter && !Signs.Contains(text[i], StringComparison.Ordinal)))
                continue;
            if (text.AsSpan(0, i).IsWhiteSpace())
                continue;
            int gap = 0;
            while (gap < i && text[i - 1 - gap] == ' ')
                gap++;
            // A letter in front of letters is a part of a word.
            bool isApart = text[i + 1] == ' ';
            if (isLetter && !(isApart && gap >= WideGap))
                continue;
            if (!IsRemark(text, i, gap, end))
                continue;
            LineSyntax statement = LineSyntax.Parse(text[..i]);
            // What takes any operand is whole where a gap and the sign at a word say so.
            bool isFree = statement.Has(WordTraits.FreeOperands) && gap >= WideGap;
            if ((isFree || !CodeShape.IsCode(LineSyntax.Parse(text[..end]))) && IsWhole(statement, gap))
                return i;
        }

        return -1;
    }

    // Words, and no number, operand or sum.
    private static bool IsRemark(string text, int at, int gap, int end)
    {
        int start = at + 1;
        while (start < text.Length && text[start] == ' ')
            start++;
        // The sign twice, one of them read well.
        if (start == end && end < text.Length)
            return gap >= 2;
        if (start >= text.Length || !char.IsLetter(text[start]))
            return start > at + 1
                && gap >= WideGap
                && start < text.Length
                && text[start] is '-' or '*' or '=' or '(' or '"' or '\'';
        if (start > at + 1 && gap < 2 && !NoOperator.Contains(text[at], StringComparison.Ordinal))
            return false;
        int stop = start;
        while (stop < text.Length && (char.IsLetterOrDigit(text[stop]) || text[stop] == '_'))
            stop++;
        ReadOnlySpan<char> word = text.AsSpan(at, stop - at);
        return start > at + 1 || !char.IsAsciiDigit(text[at]) || !IsNumber(word);
    }

    private static bool IsNumber(ReadOnlySpan<char> word)
    {
        bool hasDigit = word[^1] is 'h' or 'H' || word[1..].IndexOfAnyInRange('0', '9') >= 0;
        if (word[^1] is 'h' or 'H')
            word = word[..^1];
        foreach (char c in word)
            if (!char.IsAsciiHexDigit(c) && !(hasDigit && c is 'O' or 'o' or 'l' or 'I'))
                return false;
        return true;
    }

    // An operation with all that it takes; where something could follow, only a wide gap parts what follows from it.
    private static bool IsWhole(LineSyntax statement, int gap)
    {
        if (
            !CodeShape.IsCode(statement)
            || statement.OperandText.AsSpan().Trim() is [.., ',' or '+' or '-' or '*' or '/' or '&' or '|' or '=']
        )
            return false;
        if (
            statement.OperationKind == OperationKind.Instruction
            && InstructionSet.Find(statement.Operation) is { } instruction
        )
        {
            int most = instruction.Operands switch
            {
                OperandKind.None => 0,
                OperandKind.RegisterDestination or OperandKind.RegisterBit => 2,
                _ => 1,
            };
            return statement.Operands.Length == most || gap >= WideGap;
        }

        return gap >= WideGap
            || statement.OperationKind == OperationKind.Assignment
            || statement.Keyword is Keyword.Org or Keyword.VariableBlock;
    }

    // A row that begins with such a sign, and is a sentence.
    private static int AtStart(string text)
    {
        int at = 0;
        while (at < text.Length && text[at] == ' ')
            at++;
        if (at + 2 >= text.Length || text[at] == ';')
            return -1;
        int start = at + 1;
        while (start < text.Length && text[start] == ' ')
            start++;
        if (start >= text.Length)
            return -1;
        bool isLetter = Letters.Contains(text[at], StringComparison.Ordinal);
        if (isLetter ? start == at + 1 && text[start] != ';' : !Signs.Contains(text[at], StringComparison.Ordinal))
            return -1;
        if (text[start] == ';')
            return at;
        return AssemblyLook.Of(text) != Look.Code && IsSentence(text[start..]) ? at : -1;
    }

    // Three words and none that may be an operation among the first: an instruction with a label has two.
    private static bool IsSentence(string text)
    {
        string[] words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words.Length < 3 || OcrLook.Of(text) == Look.Code || AssemblyLook.Of(" " + text) == Look.Code)
            return false;
        int plain = 0;
        for (int i = 0; i < words.Length; i++)
        {
            string word = words[i].Trim(',', '.', ':', '!', '?', '(', ')', '"', '\'', '-');
            if (i < 2 && MayBeOperation(word))
                return false;
            if (word.Length > 1 && word.All(char.IsLetter))
                plain++;
        }

        return plain >= 2;
    }

    /// <summary>Whether a word is near an operation that takes no operand.</summary>
    public static bool MayBeBareOperation(string word) =>
        OperationWords.All.Any(o =>
            OperationWords.TakesNoOperand(o) && Math.Abs(o.Length - word.Length) <= 1 && WordDistance.Of(o, word) <= 2
        );

    /// <summary>Whether a word is an instruction that no sentence has, or near to one.</summary>
    public static bool MayBeInstruction(string word) =>
        word.Length >= LeastInstruction
        && OperationWords.Entries.Any(o =>
            o.Kind == OperationKind.Instruction
            && !o.Has(WordTraits.FrequentInProse)
            && o.Text.Length >= LeastInstruction
            && Math.Abs(o.Text.Length - word.Length) <= 1
            && WordDistance.Of(o.Text, word) <= 1
        );

    /// <summary>Whether a word is an operation, or looks like one that was misread.</summary>
    public static bool MayBeOperation(string word) =>
        word.Length > 1
        && (
            OperationWords.KindOf(word) != OperationKind.Unknown
            || OcrLook.HasOperation(word)
            || OperationWords.All.Any(o =>
                o.Length > 2 && Math.Abs(o.Length - word.Length) <= 1 && WordDistance.Of(o, word) <= 1
            )
        );

    /// <summary>Whether a row is a line drawn with signs, or what OCR made of one: a few letters over and over.</summary>
    public static bool IsRule(string text)
    {
        ReadOnlySpan<char> row = text.AsSpan().Trim();
        if (row.Length < LeastRule || row.IndexOfAny(",;\"") >= 0)
            return false;
        int signs = 0,
            visible = 0,
            digits = 0;
        var kinds = new HashSet<char>();
        foreach (char c in row)
        {
            if (c == ' ')
                continue;
            visible++;
            kinds.Add(char.ToUpperInvariant(c));
            signs += c is '-' or '=' or '*' or '_' or '#' or '~' or '+' or '.' or '\u2014' ? 1 : 0;
            digits += char.IsAsciiDigit(c) ? 1 : 0;
        }

        if (signs * 10 >= visible * 8)
            return true;
        return row.Length >= LeastGarbage && digits == 0 && kinds.Count <= KindsOfGarbage && !HasOperation(text);
    }

    private static bool HasOperation(string text) =>
        text.Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Any(static w => OperationWords.KindOf(w) != OperationKind.Unknown);

    private static bool IsLoneSign(string text) =>
        text.AsSpan().Trim() is [var c]
        && (Signs.Contains(c, StringComparison.Ordinal) || Letters.Contains(c, StringComparison.Ordinal));

    private static bool IsBetweenRemarks(List<PrintedLine> rows, int at) =>
        at > 0 && at + 1 < rows.Count && IsRemark(rows[at - 1].Text) && IsRemark(rows[at + 1].Text);

    private static bool IsRemark(string text) => text.AsSpan().TrimStart() is [';', ..] || AtStart(text) >= 0;
}
