using AsmLsp.Core.Assembly;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Whether words that read as no code may be an instruction all the same, made unreadable by one slip: a blank too many
/// (<c>go to idle</c>), one too few (<c>movwfPORTB</c>), a digit for its letter (<c>m0vlw 5</c>). What may be one is never made a comment,
/// nor joined to one, without a doubt.
/// </summary>
internal static class HiddenCode
{
    private const int LongestWord = 48;

    // A program with more macros than that of one length is made by a program, and holds no slips of the pen.
    private const int MostNames = 500;

    // A label and a blank inside it may be in front of the operation.
    private const int WordsInFront = 3;

    private static readonly (string Word, string Shape, bool TakesOperand)[] Instructions =
    [
        .. OperationWords
            .Entries.Where(static w =>
                (w.Kind == OperationKind.Instruction && w.Text.Length > 2) || w.Has(WordTraits.Places)
            )
            .Select(static w => (w.Text, GlyphConfusion.Shapes(w.Text), !w.Has(WordTraits.NoOperand))),
    ];

    /// <summary>Whether a text may be code. Words that are an instruction as they are are not its matter.</summary>
    /// <param name="text">A line without its comment.</param>
    /// <param name="isKnown">Whether a name is one of the program or its chip.</param>
    public static bool MayBe(ReadOnlySpan<char> text, Func<string, bool> isKnown)
    {
        // A '#' begins no word of a sentence.
        if (text.TrimStart() is ['#', ..])
            return true;
        string[] words = text.ToString().Split((char[])[' ', '\t', '\u00A0'], StringSplitOptions.RemoveEmptyEntries);
        for (int i = 1; i + 1 < words.Length; i++)
            if (OperationWords.KeywordOf(words[i]) == Keyword.Equ && IsOperand(words[i + 1], isKnown))
                return true;
        // An operation alone: its operand may be in the next line.
        if (words.Length == 1 && words[0].Length > 2 && OperationWords.KindOf(words[0]) == OperationKind.Instruction)
            return true;
        if (words.Length > 1 && IsNearInstruction(words[0]) && AreOperands(words.AsSpan(1), isKnown))
            return true;
        for (int i = 0; i < words.Length && i < WordsInFront; i++)
            if (IsInstruction(string.Concat(words[i..]), i, isKnown))
                return true;
        return false;
    }

    // One letter too many, too few, or another one.
    private static bool IsNearInstruction(string word)
    {
        if (word.Length < 4 || OperationWords.Find(word) is not null)
            return false;
        foreach ((string operation, _, bool takesOperand) in Instructions)
            if (takesOperand && operation.Length > 3 && IsOneEdit(word, operation))
                return true;
        return false;
    }

    private static bool IsOneEdit(string a, string b)
    {
        if (Math.Abs(a.Length - b.Length) > 1)
            return false;
        int same = 0;
        while (same < Math.Min(a.Length, b.Length) && char.ToLowerInvariant(a[same]) == char.ToLowerInvariant(b[same]))
            same++;
        ReadOnlySpan<char> restA = a.AsSpan(same),
            restB = b.AsSpan(same);
        if (a.Length >= b.Length && restA.Length > 0)
            restA = restA[1..];
        if (b.Length >= a.Length && restB.Length > 0)
            restB = restB[1..];
        return restA.Equals(restB, StringComparison.OrdinalIgnoreCase);
    }

    // One operand, or several with commas between them, and nothing else.
    private static bool AreOperands(ReadOnlySpan<string> words, Func<string, bool> isKnown)
    {
        for (int i = 0; i + 1 < words.Length; i++)
            if (!words[i].EndsWith(',') && !words[i + 1].StartsWith(','))
                return false;
        return IsOperand(string.Concat(words!), isKnown);
    }

    // Directives that close or part what others open, or start the variables: lost, they change what other lines are.
    private static readonly string[] BareDirectives =
    [
        .. OperationWords
            .Entries.Where(static w =>
                w.Kind == OperationKind.Directive
                && (
                    w.Has(WordTraits.ClosesBody)
                    || w.Keyword is Keyword.Else or Keyword.EndVariableBlock or Keyword.DataSection
                )
            )
            .Select(static w => w.Text),
    ];

    /// <summary>Whether a line begins with an operation in which digits were read for letters, or that was parted by a blank, whatever comes after it.</summary>
    public static bool BeginsMisread(string text)
    {
        string[] words = text.Split((char[])[' ', '\t'], 3, StringSplitOptions.RemoveEmptyEntries);
        if (words.Length == 0)
            return false;
        if (
            words.Length > 1
            && words[0].Length + words[1].Length > 2
            && OperationWords.Find(words[0] + words[1]) is not null
        )
            return true;
        string first = words[0];
        if (first.Length < 3 || first.AsSpan().IndexOfAnyInRange('0', '9') < 0 || !first.Any(char.IsLetter))
            return false;
        // Capitals have shapes of their own.
        string shape = GlyphConfusion.Shapes(first),
            small = GlyphConfusion.Shapes(first.ToLowerInvariant());
        return Array.Exists(Instructions, i => i.Shape == shape || i.Shape == small);
    }

    /// <summary>What a lone word may be that nobody asks for as a label: an operation and its operand without the blank between, or an operation that lost its last letter; null where it is neither.</summary>
    /// <param name="word">The word.</param>
    /// <param name="isKnown">Whether a name is one of the program or its chip.</param>
    public static string? InsteadOfLabel(string word, Func<string, bool> isKnown)
    {
        if (word.Length < 2)
            return null;
        foreach ((string operation, string shape, bool takesOperand) in Instructions)
        {
            if (
                !takesOperand
                && word.Length == operation.Length - 1
                && operation.StartsWith(word, StringComparison.OrdinalIgnoreCase)
            )
                return operation;
            if (!takesOperand && word.Length == operation.Length && GlyphConfusion.Shapes(word) == shape)
                return operation;
            if (
                takesOperand
                && word.Length > operation.Length + 1
                && word.StartsWith(operation, StringComparison.OrdinalIgnoreCase)
                && IsOperand(word[operation.Length..], isKnown)
            )
                return $"{word[..operation.Length]} {word[operation.Length..]}";
        }

        foreach (string directive in BareDirectives)
            if (IsSlipOf(word, directive))
                return directive;
        return null;
    }

    /// <summary>The macro, or the define, that a lone word calls but for one character; null where there is none.</summary>
    public static string? Call(ProgramAnalysis program, string word) =>
        program.Derive(static of => new CallableNames(of)).SlipOf(word);

    // The names that a line can call, by their lengths: a word is looked for among those that could be meant.
    private sealed class CallableNames
    {
        private readonly Dictionary<int, List<string>> byLength = [];

        public CallableNames(ProgramAnalysis program)
        {
            foreach (Symbol symbol in program.Symbols)
            {
                if (symbol.Kind is not (SymbolKind.Macro or SymbolKind.Define))
                    continue;
                if (!byLength.TryGetValue(symbol.Name.Length, out List<string>? same))
                    byLength.Add(symbol.Name.Length, same = new(1));
                same.Add(symbol.Name);
            }
        }

        public string? SlipOf(string word)
        {
            int looks = 0;
            foreach (int length in (ReadOnlySpan<int>)[word.Length, word.Length + 1])
            {
                if (!byLength.TryGetValue(length, out List<string>? same))
                    continue;
                foreach (string name in same)
                    if (++looks > MostNames)
                        return null;
                    else if (name != word && IsSlipOf(word, name))
                        return name;
            }

            return null;
        }
    }

    // The last character lost, or one taken for another.
    private static bool IsSlipOf(string word, string meant) =>
        word.Length == meant.Length
            ? GlyphConfusion.MayBe(word, meant, static _ => true)
                && !word.Equals(meant, StringComparison.OrdinalIgnoreCase)
            : word.Length == meant.Length - 1
                && word.Length > 2
                && meant.StartsWith(word, StringComparison.OrdinalIgnoreCase);

    private static bool IsInstruction(string joined, int inFront, Func<string, bool> isKnown)
    {
        if (joined.Length > LongestWord)
            joined = joined[..LongestWord];
        string shape = GlyphConfusion.Shapes(joined),
            small = GlyphConfusion.Shapes(joined.ToLowerInvariant());
        foreach ((string operation, string wanted, bool takesOperand) in Instructions)
        {
            if (
                !shape.StartsWith(wanted, StringComparison.Ordinal)
                && !small.StartsWith(wanted, StringComparison.Ordinal)
            )
                continue;
            if (!takesOperand)
            {
                if (shape.Length == wanted.Length && inFront < 2)
                    return true;
            }
            else if (shape.Length > wanted.Length && IsOperand(joined[operation.Length..], isKnown))
            {
                return true;
            }
        }

        return false;
    }

    // Begins with a number or a known name, and continues as operands do.
    private static bool IsOperand(string text, Func<string, bool> isKnown)
    {
        SyntaxToken[] tokens = Lexer.Lex(text);
        if (tokens.Length == 0)
            return false;
        SyntaxToken first = tokens[0];
        if (first.Kind is TokenKind.Here or TokenKind.Open or TokenKind.Character)
            return true;
        if (tokens.Length > 1 && tokens[1].Kind is not (TokenKind.Comma or TokenKind.Operator or TokenKind.Blank))
            return false;
        string word = text.Substring(first.Start, first.Length);
        return first.Kind == TokenKind.Number || (first.Kind == TokenKind.Name && isKnown(word));
    }
}
