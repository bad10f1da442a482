using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Texts in quotes in a source that shows no run of blanks anywhere: a browser or a chat has made one blank of many, and a text for
/// a display may have had more of them. The same for quotes that have nothing between them, and for characters of typesetting inside.
/// </summary>
internal static class BlanksInText
{
    public static void Look(SuspicionSheet sheet)
    {
        for (int i = 0; i < sheet.LineCount; i++)
        {
            LineSyntax syntax = sheet.Syntax(i);
            for (int t = 0; t < syntax.EndOfCode; t++)
                if (
                    syntax.Tokens[t].Kind is TokenKind.Text or TokenKind.Character
                    && HasTypesetting(syntax.SpanOf(t))
                    && sheet.IsRead(i)
                )
                    sheet.Mark(
                        i,
                        DocumentCodes.BlanksInText,
                        "are plain characters meant in this text?",
                        "This text has a curled quote, a long dash or a blank of another width, and gives the byte of that. Word processors put such characters in for plain ones. Compare it with the page."
                    );
                else if (
                    syntax.Tokens[t].Kind is TokenKind.Character
                    && syntax.Tokens[t].Length == 2
                    && sheet.IsRead(i)
                )
                    sheet.Mark(
                        i,
                        DocumentCodes.BlanksInText,
                        "is a blank lost between the quotes?",
                        "There is nothing between these quotes. If the page has a blank there, put it in."
                    );
        }
    }

    private static bool HasTypesetting(ReadOnlySpan<char> text)
    {
        foreach (char c in text)
            if (c > '\u007F' && TypographicCharacters.PlainFormOf(c) is not null)
                return true;
        return false;
    }

    /// <summary>Adds doubts to the texts with blanks of a source whose pasted text shows that runs of blanks were lost.</summary>
    public static RecoveryResult MarkShrunk(RecoveryResult result, Core.Text.SourceText pasted)
    {
        bool everywhere = LostBlanks.IsSeenIn(pasted, isFlat: false);
        HashSet<string> flat = everywhere ? [] : LostBlanks.FlatTexts(pasted);
        if (!everywhere && flat.Count == 0)
            return result;
        var sheet = new SuspicionSheet(result);
        for (int i = 0; i < sheet.LineCount; i++)
            if (
                LostBlanks.TextWithBlanks(sheet.Syntax(i)) is { } span
                && (everywhere || flat.Contains(sheet.Syntax(i).Text.Substring(span.Start, span.Length)))
                && sheet.IsRead(i)
                && sheet.Facts(i).Words > 0
            )
                sheet.Mark(
                    i,
                    DocumentCodes.BlanksInText,
                    LostBlanks.Question,
                    "Runs of blanks were lost from this text, as browsers do. If the page has several blanks side by side between the quotes, put them in."
                );
        return sheet.ToResult();
    }
}
