using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>What the rows of a document look like: each by its own words, then by the rows around it.</summary>
internal sealed class RowLooks
{
    /// <summary>Among so many rows of code above a lone operation is one that starts at its place.</summary>
    private const int TailRows = 12;

    /// <summary>Operations of one column start within so many points.</summary>
    public const double SameColumn = 3;

    private readonly DocumentRows rows;
    private readonly Look[] looks;

    private RowLooks(DocumentRows rows)
    {
        this.rows = rows;
        looks = new Look[rows.Count];
        for (int i = 0; i < looks.Length; i++)
            looks[i] = rows.IsHeaderOrFooter(i) ? Look.Other : LookOf(rows.Lines[i], rows.Texts[i], rows.Gutter);
    }

    public static Look[] Of(DocumentRows rows)
    {
        var found = new RowLooks(rows);
        found.MarkCalls();
        found.MarkBlocks();
        found.MarkRowsOfWords();
        found.MarkTails();
        found.MarkLabels();
        return found.looks;
    }

    // 'call home' could be a sentence; in the type of listings it is none.
    private static Look LookOf(PrintedLine line, string text, DocumentGutter gutter)
    {
        // A blank line with its number, or words that continue with the line above.
        if (gutter.IsRow(line) && string.IsNullOrWhiteSpace(text))
            return gutter.Of(line) is { Reading.Words.Count: > 0 } ? Look.Code : Look.Comment;
        Look look = AssemblyLook.Of(text);
        if (look == Look.Perhaps && line.IsMonospaced && AssemblyLook.IsInstruction(text) && WordsOfCode(text) > 1)
            return Look.Code;
        return look == Look.Other && line.IsOcr ? OcrLook.Of(line.Text) : look;
    }

    private static int WordsOfCode(string text) => DocumentRows.Words(text.Split(';')[0]).Length;

    // A line that begins with the name of a macro, or has it after a label, may be its call.
    private void MarkCalls()
    {
        var macros = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        for (int i = 0; i < rows.Count; i++)
            if (
                looks[i] == Look.Code
                && DocumentRows.Words(rows.Texts[i]) is [var name, var operation, ..]
                && OperationWords.KeywordOf(operation) == Keyword.Macro
            )
                macros.Add(name);
        for (int i = 0; i < rows.Count && macros.Count > 0; i++)
        {
            if (looks[i] is not (Look.Other or Look.Perhaps) || rows.IsHeaderOrFooter(i))
                continue;
            string[] words = DocumentRows.Words(rows.Texts[i]);
            if (words.Length > 0 && (macros.Contains(words[0]) || (words.Length > 1 && macros.Contains(words[1]))))
                looks[i] = rows.Lines[i].IsMonospaced && WordsOfCode(rows.Texts[i]) <= 3 ? Look.Code : Look.Perhaps;
        }
    }

    // The names between 'cblock' and 'endc' are code, though each by itself could be a word of the text.
    private void MarkBlocks()
    {
        int start = -1;
        for (int i = 0; i < rows.Count; i++)
        {
            if (looks[i] != Look.Code)
                continue;
            bool opens = AssemblyLook.KeywordOf(rows.Texts[i]) == Keyword.VariableBlock,
                closes = AssemblyLook.KeywordOf(rows.Texts[i]) == Keyword.EndVariableBlock;
            if (closes && start >= 0)
                for (int j = start + 1; j < i; j++)
                    if (looks[j] == Look.Perhaps)
                        looks[j] = Look.Code;
            start = opens ? i : -1;
        }
    }

    // Rows of nothing but words continue with the code above them.
    private void MarkRowsOfWords()
    {
        bool code = false;
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows.IsHeaderOrFooter(i))
                continue;
            if (code && looks[i] == Look.Perhaps && AssemblyLook.IsRowOfWords(rows.Lines[i].Text))
                looks[i] = Look.Code;
            code = looks[i] == Look.Code;
        }
    }

    // 'return', 'sleep' and 'end' close programs and sentences: alone in a row right below code, where operations of that code start, they are code.
    private void MarkTails()
    {
        int above = -1;
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows.IsHeaderOrFooter(i))
                continue;
            if (looks[i] == Look.Perhaps && above >= 0 && IsTail(i, above))
                looks[i] = Look.Code;
            above = looks[i] == Look.Code ? i : -1;
        }
    }

    private bool IsTail(int line, int above)
    {
        if (
            !AssemblyLook.IsBareOperation(rows.Texts[line])
            || rows.TypefaceOf(line) != rows.TypefaceOf(above)
            // A word that no longer fitted into the comment above.
            || (
                rows.Texts[above].Contains(';', StringComparison.Ordinal)
                && rows.Lines[above].ColumnEnd > 0
                && !rows.Lines[above].HasRoomFor(DocumentRows.Words(rows.Texts[line])[0])
            )
        )
            return false;
        double at = rows.OperationX(line);
        for (int i = above, seen = 0; i >= 0 && seen < TailRows && looks[i] == Look.Code; i--, seen++)
            if (Math.Abs(rows.OperationX(i) - at) <= SameColumn)
                return true;
        return false;
    }

    // In the type of listings a lone name right above code is its label, whatever the page has printed between the pieces of the listing.
    private void MarkLabels()
    {
        var types = new HashSet<Typeface>();
        for (int i = 0; i < rows.Count; i++)
        {
            if (looks[i] == Look.Code)
                types.Add(rows.TypefaceOf(i));
            else if (
                looks[i] == Look.Perhaps
                && rows.Lines[i].IsMonospaced
                && types.Contains(rows.TypefaceOf(i))
                && !rows.IsHeaderOrFooter(i)
                && EdgeNames.NameOf(rows.Texts[i]) is { } name
                && OperationWords.KindOf(name) == OperationKind.Unknown
                && StartsPiece(i)
            )
                looks[i] = Look.Code;
        }
    }

    private bool StartsPiece(int line)
    {
        for (int i = line + 1; i < rows.Count && rows.Lines[i].Page == rows.Lines[line].Page; i++)
            if (rows.TypefaceOf(i) == rows.TypefaceOf(line))
                return looks[i] is Look.Code or Look.Comment;
        return false;
    }
}
