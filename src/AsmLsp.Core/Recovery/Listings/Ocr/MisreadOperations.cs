using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Ocr;

/// <summary>
/// Operations that OCR read with a letter too many, too few, or another one: <c>movft</c>, <c>MOVWEF</c>, <c>#defne</c>. Written as they are where exactly one word of the
/// language is so near and fits what follows; <c>bef</c> may be two, and stays for a person.
/// </summary>
internal static class MisreadOperations
{
    // Of shorter words too many are near.
    private const int LeastLength = 4;

    private static readonly string[] Instructions =
    [
        .. OperationWords.Entries.Where(static w => w.Kind == OperationKind.Instruction).Select(static w => w.Text),
    ];

    // Directives that are near to no other word.
    private static readonly string[] Directives =
    [
        OperationWords.Spell(Keyword.Configuration),
        "#" + OperationWords.Spell(Keyword.Define),
        "#" + OperationWords.Spell(Keyword.Include),
    ];

    private const int MostOfDirective = 2;

    private const string Thin = "il1|tfjI";

    /// <summary>The row with its operation as it is spelled.</summary>
    /// <param name="line">The row.</param>
    /// <param name="names">The first words of the rows: what may be macros of the program.</param>
    public static PrintedLine Correct(PrintedLine line, HashSet<string> names)
    {
        string code = line.Text[..MisreadCharacters.CodeEnd(line.Text)];
        int start = 0;
        for (int word = 0; word < 2; word++)
        {
            while (start < code.Length && code[start] == ' ')
                start++;
            int end = start;
            while (end < code.Length && code[end] != ' ')
                end++;
            if (end == start || end == code.TrimEnd().Length)
                return line;
            string read = code[start..end];
            if (OperationWords.KindOf(read) != OperationKind.Unknown)
                return line;
            if (Meant(read, code[end..], word == 0 || !names.Contains(read)) is { } meant)
                return OcrEdit.Write(line, start, end, meant);
            start = end;
        }

        return line;
    }

    private static string? Meant(string read, string operands, bool mayBeMisread)
    {
        if (read.Length < LeastLength || !mayBeMisread)
            return null;
        foreach (string directive in Directives)
            if (
                read[0] == directive[0]
                && char.ToLowerInvariant(read.TrimStart('_', '#')[..1].FirstOrDefault())
                    == directive.TrimStart('_', '#')[0]
                && WordDistance.Of(read, directive) <= MostOfDirective
            )
                return directive;
        if (!read.All(char.IsAsciiLetterOrDigit))
            return null;
        bool hasCapitals = !read.AsSpan().ContainsAnyInRange('a', 'z');
        string? only = null,
            twice = null;
        foreach (string instruction in Instructions)
        {
            string spelled = hasCapitals ? instruction.ToUpperInvariant() : instruction;
            if (
                !IsOneStep(read, spelled, out bool isTwice)
                || !CodeShape.IsCode(LineSyntax.Parse($" {spelled}{operands}"))
            )
                continue;
            // A letter that was read twice is the surer reason.
            if (isTwice)
                twice = twice is null ? spelled : "";
            only = only is null ? spelled : "";
        }

        string? meant = twice ?? only;
        return meant is { Length: > 0 } ? meant : null;
    }

    // One thin letter too many, or letters that are taken for each other. A letter that is missing says nothing.
    private static bool IsOneStep(string read, string word, out bool isTwice)
    {
        isTwice = false;
        // Of letters that are taken for each other, another pair may be the right one where a further word is as near.
        if (read.Length == word.Length)
            return GlyphConfusion.MayBe(read, word, static _ => true)
                && Instructions.Count(o => WordDistance.Of(o, read) <= 1) <= 1;
        if (read.Length != word.Length + 1)
            return false;
        for (int i = 0; i < read.Length; i++)
        {
            if (
                !read.AsSpan(0, i).SequenceEqual(word.AsSpan(0, i)) || !read.AsSpan(i + 1).SequenceEqual(word.AsSpan(i))
            )
                continue;
            isTwice |=
                (i > 0 && GlyphConfusion.Alike(read[i], read[i - 1]))
                || (i + 1 < read.Length && GlyphConfusion.Alike(read[i], read[i + 1]));
            if (isTwice || Thin.Contains(read[i], StringComparison.Ordinal))
                return true;
        }

        return false;
    }
}
