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
        found.MarkSentences();
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

    // Where listings are set in type of equal widths, a sentence about an instruction in the type of the text is none: 'so movlw is used twice'.
    private void MarkSentences()
    {
        var statements = new Dictionary<Typeface, (int Code, int All)>();
        int code = 0,
            monospaced = 0;
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows.IsHeaderOrFooter(i))
                continue;
            int statement = looks[i] == Look.Code && IsStatement(i) ? 1 : 0;
            code += statement;
            monospaced += rows.Lines[i].IsMonospaced ? statement : 0;
            (int own, int all) = statements.GetValueOrDefault(rows.TypefaceOf(i));
            statements[rows.TypefaceOf(i)] = (own + statement, all + 1);
        }

        if (monospaced < ListingRows.LeastCode || monospaced * 10 < code * 9)
            return;
        for (int i = 0; i < rows.Count; i++)
            if (
                looks[i] is Look.Code or Look.Perhaps
                && !rows.Lines[i].IsMonospaced
                && statements[rows.TypefaceOf(i)] is var (own, all)
                && own * 5 <= all
                && EdgeNames.NameOf(rows.Texts[i]) is null
                && !IsStatement(i)
            )
                looks[i] = Look.Other;
    }

    private bool IsStatement(int row) => CodeShape.IsCode(LineSyntax.Parse(AssemblyLook.Plain(rows.Texts[row])));

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
                    if (looks[j] == Look.Perhaps && rows.Lines[j].IsMonospaced == rows.Lines[start].IsMonospaced)
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

    // 'return', 'sleep' and 'end' close programs and sentences: alone in a row right below code, where operations of that code start, they are code. The type of
    // listings shows that also below a paragraph of the text.
    private void MarkTails()
    {
        int above = -1;
        var last = new Dictionary<Typeface, int>();
        for (int i = 0; i < rows.Count; i++)
        {
            if (rows.IsHeaderOrFooter(i))
                continue;
            int code = rows.Lines[i].IsMonospaced ? last.GetValueOrDefault(rows.TypefaceOf(i), -1) : above;
            if (looks[i] == Look.Perhaps && code >= 0 && IsTail(i, code))
                looks[i] = Look.Code;
            // A label of its own may be between them.
            if (code >= 0 && looks[i] == Look.Perhaps && rows.Lines[i].IsMonospaced && IsName(i))
                continue;
            above = looks[i] == Look.Code ? i : -1;
            last[rows.TypefaceOf(i)] = above;
        }
    }

    private bool IsTail(int line, int above)
    {
        if (
            !AssemblyLook.IsBareOperation(rows.Texts[line])
            || rows.TypefaceOf(line) != rows.TypefaceOf(above)
            // A word that no longer fitted into the comment above.
            || (
                line == above + 1
                && rows.Texts[above].Contains(';', StringComparison.Ordinal)
                && rows.Lines[above].ColumnEnd > 0
                && !rows.Lines[above].HasRoomFor(DocumentRows.Words(rows.Texts[line])[0])
            )
        )
            return false;
        double at = rows.OperationX(line);
        for (int i = above, seen = 0; i >= 0 && seen < TailRows; i--)
        {
            if (rows.TypefaceOf(i) != rows.TypefaceOf(line) || IsName(i))
                continue;
            if (looks[i] != Look.Code)
                return false;
            if (Math.Abs(rows.OperationX(i) - at) <= SameColumn)
                return true;
            seen++;
        }

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
                && IsName(i)
                && StartsPiece(i)
            )
                looks[i] = Look.Code;
        }
    }

    private bool IsName(int row) =>
        EdgeNames.NameOf(rows.Texts[row]) is { } name && OperationWords.KindOf(name) == OperationKind.Unknown;

    private bool StartsPiece(int line)
    {
        for (int i = line + 1; i < rows.Count && rows.Lines[i].Page == rows.Lines[line].Page; i++)
            if (rows.TypefaceOf(i) == rows.TypefaceOf(line))
                return looks[i] is Look.Code or Look.Comment;
        return false;
    }
}
