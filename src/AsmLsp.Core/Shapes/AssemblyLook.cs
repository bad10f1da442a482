using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Shapes;

/// <summary>How much a printed line looks like a line of a program.</summary>
internal enum Look
{
    /// <summary>Not at all.</summary>
    Other,

    /// <summary>It could be one: its operation is also a word of English, or it is a name alone.</summary>
    Perhaps,

    /// <summary>A comment.</summary>
    Comment,

    /// <summary>An instruction, a directive or a name with its value.</summary>
    Code,
}

/// <summary>Judges single lines by their first words; what is around them is judged elsewhere.</summary>
internal static class AssemblyLook
{
    private static readonly string Configuration = OperationWords.Spell(Keyword.Configuration);

    /// <summary>The look of a line, its numbers in front left out (addresses, words, line numbers).</summary>
    public static Look Of(string text)
    {
        int start = AfterNumbers(text);
        // A row with nothing but an address and words continues with the data of the line above.
        if (start == text.Length)
            return IsRowOfWords(text) ? Look.Perhaps : Look.Other;
        if (text[start] == ';')
            return Look.Comment;
        // Blanks in front keep the first word from being a label by its column alone.
        LineSyntax line = LineSyntax.Parse(WithoutCounts(Plain(text[start..])));
        // The word of the configuration with the first setting glued to it: no word of a text begins so.
        if (text.AsSpan(start).StartsWith(Configuration, StringComparison.OrdinalIgnoreCase))
            return Look.Code;
        if (line.OperationToken < 0 || line.OperationKind == OperationKind.Unknown)
            return line.LabelToken >= 0 && IsLoneLabel(line) ? Look.Perhaps : Look.Other;
        if (line.LabelToken > 0)
            return Look.Other;
        // No sentence has the name of a file in brackets or quotes after this word, and nothing else.
        if (
            line.Keyword == Keyword.Include
            && line.OperandText.AsSpan().Trim() is ['<', _, .., '>'] or ['"', _, .., '"']
        )
            return Look.Code;
        // A '=' is in formulas as well.
        bool isFrequent = line.Has(WordTraits.FrequentInProse) || line.Operation == "=";
        if (line.OperationKind == OperationKind.Assignment && !isFrequent)
            return Look.Code;
        bool isSentence = IsSentence(line) && !IsStatementBeforeGap(line);
        if (!isFrequent)
            return isSentence ? Look.Perhaps : Look.Code;
        return isSentence ? Look.Other
            : line.Keyword == Keyword.List && line.OperandText.Contains('=', StringComparison.Ordinal) ? Look.Code
            : Look.Perhaps;
    }

    /// <summary>Whether a line belongs to the head of a program: it names the chip, the configuration or the first address.</summary>
    public static bool IsHead(string text)
    {
        LineSyntax line = LineSyntax.Parse(Plain(text).TrimStart());
        return line.Keyword switch
        {
            Keyword.List => line.OperandText.Contains('=', StringComparison.Ordinal),
            Keyword.Processor or Keyword.Include or Keyword.Configuration => true,
            Keyword.Org => line.OperandText.Trim()
                is "0"
                    or "00"
                    or "000"
                    or "0000"
                    or "0x0"
                    or "0x00"
                    or "0x000"
                    or "0x0000"
                    or "0h"
                    or "00h"
                    or "000h"
                    or "0000h"
                    or "H'0000'"
                    or "h'0000'",
            _ => false,
        };
    }

    /// <summary>Whether a line is code after numbers, such as an address and a word: page header or footer or a remark it is not.</summary>
    public static bool IsNumberedCode(string text)
    {
        int start = 0;
        while (start < text.Length && IsBlank(text[start]))
            start++;
        return start < text.Length
            && char.IsAsciiHexDigit(text[start])
            && AfterNumbers(text) > start
            && (Of(text) == Look.Code || IsInstruction(text));
    }

    /// <summary>The directive that a line has, its numbers in front left out.</summary>
    public static Keyword KeywordOf(string text) => LineSyntax.Parse(Plain(text[AfterNumbers(text)..])).Keyword;

    /// <summary>Whether a line has an operation that exists, be it also a word of English.</summary>
    public static bool HasOperation(string text) =>
        LineSyntax.Parse(WithoutCounts(Plain(" " + text))) is { OperationToken: >= 0 } line
        && line.OperationKind != OperationKind.Unknown;

    /// <summary>Whether a line is an instruction with operands of its shape, be its words also words of English.</summary>
    public static bool IsInstruction(string text)
    {
        LineSyntax line = LineSyntax.Parse(Plain(text[AfterNumbers(text)..]));
        return line.OperationKind == OperationKind.Instruction && line.OperationToken >= 0 && CodeShape.IsCode(line);
    }

    /// <summary>Whether a line is an operation that takes no operand, or <c>end</c>, and nothing else but a comment.</summary>
    public static bool IsBareOperation(string text)
    {
        LineSyntax line = LineSyntax.Parse(" " + Plain(text[AfterNumbers(text)..]));
        return line.LabelToken < 0
            && line.OperationToken >= 0
            && line.OperandText.Length == 0
            && (
                line.Keyword == Keyword.End
                || (
                    line.OperationKind == OperationKind.Instruction
                    && OperationWords.TakesNoOperand(line.SpanOf(line.OperationToken))
                )
            );
    }

    /// <summary>The column of a line's operation, from 0; -1 where it has none.</summary>
    public static int OperationColumn(string text)
    {
        int start = AfterNumbers(text);
        LineSyntax line = LineSyntax.Parse(Plain(text[start..]));
        return line.OperationToken < 0 ? -1 : start + line.Tokens[line.OperationToken].Start;
    }

    /// <summary>The name of the macro that a line opens, or null.</summary>
    public static string? MacroDefinedBy(string text)
    {
        LineSyntax line = LineSyntax.Parse(Plain(text[AfterNumbers(text)..]));
        return line.Keyword == Keyword.Macro ? line.Label : null;
    }

    /// <summary>Whether a line is the end of a program.</summary>
    public static bool IsEnd(string text)
    {
        LineSyntax line = LineSyntax.Parse(" " + Plain(text[AfterNumbers(text)..]));
        return line.LabelToken < 0 && line.OperandText.Length == 0 && line.Keyword == Keyword.End;
    }

    /// <summary>The text with the quotes and blanks of typesetting made plain, for looking at it only.</summary>
    public static string Plain(string text) =>
        text.AsSpan().IndexOfAny("\u2018\u2019\u201C\u201D\u00A0") < 0
            ? text
            : text.Replace('\u2018', '\'')
                .Replace('\u2019', '\'')
                .Replace('\u201C', '"')
                .Replace('\u201D', '"')
                .Replace('\u00A0', ' ');

    /// <summary>Whether a line has nothing but an address and words.</summary>
    public static bool IsRowOfWords(string text)
    {
        int words = 0;
        foreach (Range range in text.AsSpan().Split(' '))
        {
            ReadOnlySpan<char> word = text.AsSpan()[range];
            if (word.IsEmpty)
                continue;
            if (word.Length != 4 || !GutterCell.TryRead(word, out _, out _))
                return false;
            words++;
        }

        return words >= 2;
    }

    private static bool IsBlank(char c) => c is ' ' or '\t' or '\u00A0';

    private static int AfterNumbers(string text) => GutterRow.AfterNumbers(text);

    // 'step#v(k)' is a name with a number worked out after it.
    private static string WithoutCounts(string text)
    {
        while (
            text.IndexOf("#v(", StringComparison.OrdinalIgnoreCase) is > 0 and var at
            && text.IndexOf(')', at) is > 0 and var end
        )
            text = text.Remove(at, end + 1 - at);
        return text;
    }

    private static bool IsLoneLabel(LineSyntax line) => line.OperationToken < 0 && line.CodeSpan.Length <= 32;

    // A whole statement, a gap that no sentence has, and words: a remark in a column of its own.
    private static bool IsStatementBeforeGap(LineSyntax line)
    {
        int gap = line.Text.IndexOf("   ", line.OperandSpan.Start, StringComparison.Ordinal);
        return gap > line.OperandSpan.Start && CodeShape.IsCode(LineSyntax.Parse(line.Text[..gap]));
    }

    // Operands are names, numbers and signs with at most a few blanks; a sentence has words side by side.
    private static bool IsSentence(LineSyntax line)
    {
        string operands = line.OperandText;
        if (operands.Contains('"', StringComparison.Ordinal))
            return false;
        int pairs = 0;
        for (int i = 1; i + 1 < operands.Length; i++)
            if (operands[i] == ' ' && char.IsAsciiLetter(operands[i - 1]) && char.IsAsciiLetter(operands[i + 1]))
                pairs++;
        return pairs >= (line.OperationKind == OperationKind.Directive ? 3 : 2);
    }
}
