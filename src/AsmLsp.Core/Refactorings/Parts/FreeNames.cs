using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings.Parts;

/// <summary>Makes names that nothing in the program uses, whatever the letters' case: not even a line that is left out, or a text.</summary>
internal static class FreeNames
{
    private const int LongestName = 24;
    private const int MostWords = 3;

    // Words of comments that say nothing about the value itself.
    private static readonly HashSet<string> Empty = new(StringComparer.OrdinalIgnoreCase)
    {
        "a",
        "an",
        "and",
        "as",
        "at",
        "be",
        "by",
        "do",
        "for",
        "from",
        "go",
        "if",
        "in",
        "into",
        "is",
        "it",
        "its",
        "make",
        "now",
        "of",
        "on",
        "or",
        "so",
        "that",
        "the",
        "then",
        "this",
        "to",
        "up",
        "we",
        "with",
        "load",
        "put",
        "set",
        "get",
        "move",
        "use",
        "value",
        "number",
        "constant",
        "register",
        "bit",
        "hex",
        "dec",
        "decimal",
        "w",
        "f",
        "el",
        "la",
        "los",
        "de",
        "en",
        "con",
        "der",
        "die",
        "das",
        "ein",
        "mit",
        "und",
        "le",
        "les",
        "un",
        "une",
        "et",
        "il",
        "lo",
        "di",
        "per",
    };

    /// <summary>The wish, or the wish with a number after it where it is taken.</summary>
    public static string Near(ProgramAnalysis program, string wish, string separator = "_")
    {
        string name = wish;
        for (int i = 2; !IsFree(program, name); i++)
            name = wish + separator + i.ToString(CultureInfo.InvariantCulture);
        return name;
    }

    /// <summary>A name made of what a comment says, in capital letters; null where it says nothing fit for one.</summary>
    public static string? FromComment(string? comment)
    {
        if (comment is null)
            return null;
        string name = "";
        int words = 0;
        int at = 0;
        while (at < comment.Length && words < MostWords)
        {
            if (!char.IsLetter(comment[at]) && comment[at] != '_')
            {
                // A number and what is glued to it is no word.
                if (char.IsAsciiDigit(comment[at]))
                    while (at < comment.Length && char.IsLetterOrDigit(comment[at]))
                        at++;
                else
                    at++;
                continue;
            }

            int start = at;
            while (at < comment.Length && (char.IsLetterOrDigit(comment[at]) || comment[at] == '_'))
                at++;
            string word = comment[start..at];
            if (word.Length < 2 || Empty.Contains(word) || !IsPlain(word))
                continue;
            if (name.Length + word.Length + 1 > LongestName)
                break;
            name += (name.Length > 0 ? "_" : "") + word.ToUpperInvariant();
            words++;
        }

        return name.Length >= 3 ? name : null;
    }

    private static bool IsPlain(string word)
    {
        foreach (char c in word)
            if (!char.IsAsciiLetterOrDigit(c) && c != '_')
                return false;
        return true;
    }

    private static bool IsFree(ProgramAnalysis program, string name)
    {
        if (
            OperationWords.KindOf(name) != OperationKind.Unknown
            || name is "W" or "w" or "F" or "f"
            || Hints.IsHexDigits(name)
        )
            return false;
        if (
            name.Equals("high", StringComparison.OrdinalIgnoreCase)
            || name.Equals("low", StringComparison.OrdinalIgnoreCase)
            || name.Equals("upper", StringComparison.OrdinalIgnoreCase)
        )
            return false;
        if (
            program.NamesDevice?.Symbols.FindAnyCase(name) is not null
            || program.Device?.Symbols.FindAnyCase(name) is not null
        )
            return false;
        // A name of a chip that is not named yet would be one as soon as it is.
        if (program.Device is null && DeviceCatalog.Find("PIC16F877A")?.Symbols.FindAnyCase(name) is not null)
            return false;
        foreach (SourceFile file in program.Files)
        {
            foreach (TextLine line in file.Text.Lines)
                if (line.Text.Contains(name, StringComparison.OrdinalIgnoreCase) && Holds(LineSyntax.Of(line), name))
                    return false;
        }

        return true;
    }

    private static bool Holds(LineSyntax syntax, string name)
    {
        for (int i = 0; i < syntax.Tokens.Length; i++)
            if (
                syntax.Tokens[i].Kind == TokenKind.Name
                && syntax.SpanOf(i).Equals(name, StringComparison.OrdinalIgnoreCase)
            )
                return true;
        return false;
    }
}
