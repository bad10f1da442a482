using System.Text;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf;

/// <summary>What the words of one side of a row say about the white beside them.</summary>
[Flags]
internal enum HalfTraits
{
    None = 0,

    /// <summary>A whole statement: an operation with its operands, or a name with its value.</summary>
    Statement = 1,

    /// <summary>It could be one: a name alone, or an operation that is a word of sentences.</summary>
    Perhaps = 2,

    /// <summary>Begins with a semicolon.</summary>
    Comment = 4,

    /// <summary>Has a semicolon.</summary>
    HasComment = 8,

    /// <summary>Breaks off where something has to follow: an operation without its operand, a name in a definition.</summary>
    Open = 16,

    /// <summary>Numbers and nothing else.</summary>
    Numbers = 32,

    /// <summary>One word and nothing else.</summary>
    LoneWord = 64,

    /// <summary>Begins with what takes its name from the left: <c>EQU</c>, <c>=</c>, <c>macro</c>.</summary>
    NeedsName = 128,

    /// <summary>A comment of words, not a ruler.</summary>
    Remark = 256,

    /// <summary>A semicolon and nothing else.</summary>
    BareSign = 512,

    /// <summary>Begins with a number and continues with other text, as the lines of a numbered listing do.</summary>
    Numbered = 1024,

    /// <summary>Ends with the name in a <c>#define</c>: whatever follows is its body.</summary>
    OpenDefinition = 2048,
}

/// <summary>Reads one side of a row, to say whether it is a line by itself or a piece of one.</summary>
internal static class HalfLine
{
    // A gap wider than this part of the height is a blank; from the second on, it is a wide one.
    private const double GapOfBlank = 0.15;
    private const double WideGap = 1.2;

    // Letters of a comment that has words in it.
    private const int LettersOfRemark = 6;

    /// <summary>The characters of a side as text: one blank for a narrow gap, two for a wide one.</summary>
    public static string TextOf(GlyphRow row) => TextOf(row.Glyphs);

    /// <summary>The same of characters from left to right.</summary>
    public static string TextOf(List<Glyph> glyphs)
    {
        var text = new StringBuilder();
        double end = double.NaN;
        foreach (Glyph glyph in glyphs)
        {
            if (glyph.IsBlank)
                continue;
            double gap = glyph.X - end;
            if (gap > WideGap * glyph.Size)
                text.Append("  ");
            else if (gap > GapOfBlank * glyph.Size)
                text.Append(' ');
            text.Append(glyph.Text);
            end = glyph.EndX;
        }

        return text.ToString();
    }

    /// <summary>Reads a side.</summary>
    public static HalfTraits Of(GlyphRow row) => Of(TextOf(row));

    /// <summary>Reads the text of a side.</summary>
    public static HalfTraits Of(string text)
    {
        var traits = HalfTraits.None;
        int comment = text.IndexOf(';', StringComparison.Ordinal);
        if (comment >= 0)
            traits |= HalfTraits.HasComment;
        if (comment == 0)
        {
            traits |= HalfTraits.Comment;
            if (text.AsSpan().Count(';') == text.Length)
                traits |= HalfTraits.BareSign;
            else if (text.Count(char.IsLetter) >= LettersOfRemark)
                traits |= HalfTraits.Remark;
            // A line that was commented out is torn as any other.
            if (IsOpen(text.TrimStart(';').TrimStart(), instructionsOnly: true))
                traits |= HalfTraits.Open;
            return traits;
        }

        if (IsNumbers(text))
            return traits | HalfTraits.Numbers;
        string after = WithoutNumber(text);
        if (after.Length < text.Length)
            traits |= HalfTraits.Numbered;
        comment -= text.Length - after.Length;
        text = after;
        string code = (comment < 0 ? text : text[..comment]).TrimEnd();
        if (!code.Contains(' ', StringComparison.Ordinal) && comment < 0)
            traits |= HalfTraits.LoneWord;
        if (comment < 0 && IsOpen(code, instructionsOnly: false))
            return traits | HalfTraits.Open | (IsDefinition(code) ? HalfTraits.OpenDefinition : HalfTraits.None);
        LineSyntax line = LineSyntax.Parse(AssemblyLook.Plain(code));
        if (line.OperationToken >= 0 && line.LabelToken < 0 && TakesName(line))
            return traits | HalfTraits.NeedsName;
        return traits
            | AssemblyLook.Of(text) switch
            {
                Look.Code => HalfTraits.Statement,
                Look.Perhaps => AssemblyLook.IsInstruction(text) ? HalfTraits.Statement : HalfTraits.Perhaps,
                _ => HalfTraits.None,
            };
    }

    /// <summary>Whether a side says that the line is one with what comes after the white on its right.</summary>
    public static bool IsTorn(HalfTraits left, HalfTraits right) =>
        (left & HalfTraits.Numbers) != 0
        || ((left & HalfTraits.Open) != 0 && (right & (HalfTraits.Comment | HalfTraits.Statement)) == 0)
        || ((left & HalfTraits.OpenDefinition) != 0 && (right & HalfTraits.Comment) == 0)
        || ((left & (HalfTraits.Open | HalfTraits.Comment)) == (HalfTraits.Open | HalfTraits.Comment))
        || ((left & HalfTraits.LoneWord) != 0 && (right & HalfTraits.NeedsName) != 0);

    /// <summary>Whether both sides are lines by themselves: no line has two operations, and none a comment in front of its code.</summary>
    public static bool AreTwoLines(HalfTraits left, HalfTraits right) =>
        (left & (HalfTraits.Statement | HalfTraits.HasComment)) != 0
        && (left & HalfTraits.Open) == 0
        && (right & HalfTraits.Statement) != 0;

    private static bool TakesName(LineSyntax line) =>
        line.OperationKind == OperationKind.Assignment
        || line.Keyword is Keyword.Macro or Keyword.Reserve or Keyword.DataSection;

    private static bool IsOpen(string code, bool instructionsOnly)
    {
        if (code.Length == 0)
            return false;
        if (!instructionsOnly && code[^1] is ',' or '+' or '|' or '&' or '=' or '(' or '<')
            return true;
        LineSyntax line = LineSyntax.Parse(AssemblyLook.Plain(code));
        if (line.OperationToken < 0)
            return false;
        string operation = line.Operation!;
        // The body of a definition comes after its name.
        if (IsDefinition(code))
            return !instructionsOnly && !line.OperandText.Trim().Contains(' ', StringComparison.Ordinal);
        if (line.OperandText.Length > 0)
            return false;
        return line.OperationKind switch
        {
            OperationKind.Instruction => !OperationWords.TakesNoOperand(operation)
                && !(instructionsOnly && IsWordOfSentences(operation)),
            OperationKind.Assignment => !instructionsOnly,
            _ => !instructionsOnly && line.Has(WordTraits.NeedsOperand),
        };
    }

    private static bool IsDefinition(string code) =>
        code.TrimStart().TrimStart('#').StartsWith("define ", StringComparison.OrdinalIgnoreCase);

    // A line number with the sign after it; an address and a word as well.
    private static string WithoutNumber(string text)
    {
        int start = 0;
        while (true)
        {
            int end = text.IndexOf(' ', start);
            if (end < 0 || !char.IsAsciiDigit(text[start]) || !IsNumbers(text[start..end]))
                return text[start..];
            start = end;
            while (start < text.Length && text[start] == ' ')
                start++;
        }
    }

    private static bool IsWordOfSentences(string operation) => operation.ToLowerInvariant() is "call" or "goto" or "b";

    private static bool IsNumbers(string text)
    {
        bool any = false;
        foreach (char c in text)
        {
            any |= char.IsAsciiDigit(c);
            if (!char.IsAsciiHexDigit(c) && c is not ('.' or ':' or '|' or ')' or ' ' or '-'))
                return false;
        }

        return any;
    }
}
