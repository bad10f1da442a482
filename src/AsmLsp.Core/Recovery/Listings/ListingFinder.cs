using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Finds the lines of the programs in a document. A listing is set in one font; the font is known by how many of its
/// lines are code. What is between its first and its last line in that font belongs to it, so that the rest of a
/// wrapped comment does; what is set in another font does not, unless it is code itself.
/// </summary>
internal sealed class ListingFinder
{
    /// <summary>A listing has at least this many lines of code; fewer are an example in the text.</summary>
    private const int LeastCode = 4;

    /// <summary>So many lines of other text between two parts with heads of their own make two listings.</summary>
    private const int LinesBetween = 8;

    /// <summary>How far into a part its head is looked for.</summary>
    private const int HeadLines = 40;

    /// <summary>How many other lines, rests of comments and calls of macros, may be between two lines of code.</summary>
    private const int MostBetween = 10;

    /// <summary>So many lines of other text at the end are no rest of a comment.</summary>
    private const int ProseLines = 3;

    /// <summary>In a listing that is explained line by line, so many rows of text are between two rows of code, and there are so many of these.</summary>
    private const int MostExplained = 4;
    private const int LeastInterleaved = 6;

    /// <summary>Among so many rows of code above a lone operation is one that starts at its place.</summary>
    private const int TailRows = 12;

    /// <summary>Operations of one column start within so many points.</summary>
    private const double SameColumn = 3;

    /// <summary>Rows of one paragraph lie nearer than so many heights of their type.</summary>
    private const double MostPitch = 2;

    /// <summary>How far from a listing a line may be that was read from a picture and is one of it, misread.</summary>
    private const int MostNear = 6;

    /// <summary>A comment continues in so many rows at most.</summary>
    private const int MostRests = 8;

    /// <summary>Lines of one paragraph are set closer than this part of the type's size.</summary>
    private const double RoomOfLine = 1.9;

    private readonly List<PrintedLine> lines = [];
    private readonly List<Look> looks = [];

    // The texts of the lines without the numbers in front of them.
    private readonly List<string> texts = [];
    private readonly HashSet<PrintedLine> furniture;
    private HashSet<string>? codeWords;

    public ListingFinder(IReadOnlyList<PrintedPage> pages)
    {
        Gutter = DocumentGutter.Find(pages);
        furniture = Furniture.Find(pages, Gutter);
        foreach (PrintedPage page in pages)
        {
            foreach (PrintedLine line in page.Lines)
            {
                lines.Add(line);
                texts.Add(Gutter.TextOf(line));
                looks.Add(furniture.Contains(line) ? Look.Other : LookOf(line, texts[^1], Gutter));
            }
        }

        FindCalls();
        KnowBlocks();
        KnowRowsOfWords();
        KnowTails();
        KnowHeads();
    }

    /// <summary>Whether a line is a page header or footer.</summary>
    public bool IsFurniture(PrintedLine line) => furniture.Contains(line);

    /// <summary>The numbers in front of the lines.</summary>
    public DocumentGutter Gutter { get; }

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

    private static int WordsOfCode(string text) => Words(text.Split(';')[0]).Length;

    // A line that begins with the name of a macro, or has it after a label, may be its call.
    private void FindCalls()
    {
        var macros = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        for (int i = 0; i < lines.Count; i++)
            if (
                looks[i] == Look.Code
                && Words(texts[i]) is [var name, var operation, ..]
                && OperationWords.KeywordOf(operation) == Keyword.Macro
            )
                macros.Add(name);
        for (int i = 0; i < lines.Count && macros.Count > 0; i++)
        {
            if (looks[i] is not (Look.Other or Look.Perhaps) || furniture.Contains(lines[i]))
                continue;
            string[] words = Words(texts[i]);
            if (words.Length > 0 && (macros.Contains(words[0]) || (words.Length > 1 && macros.Contains(words[1]))))
                looks[i] = lines[i].IsMonospaced && WordsOfCode(texts[i]) <= 3 ? Look.Code : Look.Perhaps;
        }
    }

    // The first words, numbers in front left out.
    private static string[] Words(string text) =>
        [
            .. AssemblyLook
                .Plain(text)
                .Split((char[])[' ', '\t'], 8, StringSplitOptions.RemoveEmptyEntries)
                .SkipWhile(static w => GutterRow.IsNumber(w)),
        ];

    /// <summary>The listings in the order of the document.</summary>
    public List<Listing> Find()
    {
        bool[] taken = Take();
        var listings = new List<Listing>();
        int start = -1;
        int between = 0,
            last = -1;
        for (int i = 0; i <= lines.Count; i++)
        {
            if (i < lines.Count && !taken[i])
            {
                if (!furniture.Contains(lines[i]))
                    between++;
                continue;
            }

            bool ends =
                i == lines.Count
                || (
                    start >= 0
                    && (
                        (AssemblyLook.IsEnd(texts[last]) && !MayBeRest(taken, last, i))
                        || (between >= LinesBetween && HasHead(taken, start, i))
                    )
                );
            if (ends && start >= 0)
            {
                Add(listings, taken, start, last);
                start = -1;
            }

            if (i == lines.Count)
                break;
            if (start < 0)
                start = i;
            (last, between) = (i, 0);
        }

        return listings;
    }

    // 'end' below a comment may be its last word: the program continues right below it without a head and has an end of its own.
    private bool MayBeRest(bool[] taken, int end, int next)
    {
        int above = end - 1;
        while (above > 0 && end - above < MostRests && looks[above] == Look.Other && taken[above])
            above--;
        if (above < 0 || next != end + 1 || !texts[above].Contains(';', StringComparison.Ordinal))
            return false;
        int code = 0;
        for (int i = next; i < lines.Count && (taken[i] || furniture.Contains(lines[i])); i++)
        {
            if (!taken[i])
                continue;
            if (AssemblyLook.IsHead(texts[i]))
                return false;
            code += looks[i] == Look.Code ? 1 : 0;
            if (AssemblyLook.IsEnd(texts[i]))
                return code > 0 && Style(lines[i]) == Style(lines[end]);
        }

        return false;
    }

    /// <summary>The lines that are not of a listing; of the others' lines, too.</summary>
    public IEnumerable<AsideLine> Aside(Listing chosen)
    {
        var inside = new HashSet<PrintedLine>(chosen.Lines, ReferenceEqualityComparer.Instance);
        int first = lines.IndexOf(chosen.Lines[0]),
            final = lines.IndexOf(chosen.Lines[^1]);
        for (int i = 0; i < lines.Count; i++)
            if (!inside.Contains(lines[i]))
                yield return new AsideLine(lines[i], furniture.Contains(lines[i]), i > first && i < final)
                {
                    IsNear = IsNear(i, first, final),
                };
    }

    // Up to the first sentence; the lines after an 'end' are none of the program.
    private bool IsNear(int line, int first, int final)
    {
        if (line >= first && (line <= final || AssemblyLook.IsEnd(texts[final])))
            return false;
        if (line < first - MostNear || line > final + MostNear)
            return false;
        int step = line < first ? 1 : -1,
            end = line < first ? first : final;
        for (int i = line; i != end; i += step)
            if (
                !furniture.Contains(lines[i])
                && !(lines[i].IsOcr && (OcrLook.MayBeCode(texts[i]) || OcrLook.HasOperation(texts[i])))
            )
                return false;
        return true;
    }

    /// <summary>All lines of the pages, in reading order.</summary>
    public IReadOnlyList<PrintedLine> Lines => lines;

    private void Add(List<Listing> listings, bool[] taken, int first, int last)
    {
        (first, last) = WithoutProse(taken, first, last);
        var rows = new List<FoundRow>();
        int above = 0;
        for (int i = first; i <= last; i++)
        {
            if (taken[i])
            {
                rows.Add(new FoundRow(lines[i], texts[i], looks[i] == Look.Code, above));
                above = 0;
            }
            else if (!furniture.Contains(lines[i]))
                above++;
        }

        listings.AddRange(ScatteredExamples.Part(rows, LeastCode));
    }

    // No program begins with a line that is neither code nor a comment; and what is left of a comment at its end is short.
    private (int First, int Last) WithoutProse(bool[] taken, int first, int last)
    {
        while (
            first < last
            && !(lines[first].IsOcr && taken[first])
            && !Gutter.IsRow(lines[first])
            && (
                !taken[first]
                || looks[first] == Look.Other
                || (looks[first] == Look.Perhaps && (IsProse(first) || IsHeading(taken, first)))
            )
        )
            first++;
        int end = last,
            other = 0;
        for (; end > first && !Gutter.IsRow(lines[end]) && (!taken[end] || looks[end] == Look.Other); end--)
            if (taken[end])
                other++;
        return (first, other >= ProseLines ? end : last);
    }

    // A word that is nowhere else, in another type than the line below it or below text that is no program: it heads the listing, and as a label
    // it would make nothing.
    private bool IsHeading(bool[] taken, int line) =>
        line + 1 < lines.Count
        && (
            Style(lines[line]) != Style(lines[line + 1])
            || (
                line > 0
                && looks[line - 1] == Look.Other
                && !furniture.Contains(lines[line - 1])
                && lines[line - 1].Page == lines[line].Page
            )
        )
        && EdgeNames.NameOf(texts[line]) is { } name
        && OperationWords.KindOf(name) == OperationKind.Unknown
        && !IsUsedBelow(taken, line, name);

    private bool IsUsedBelow(bool[] taken, int line, string name)
    {
        for (int i = line + 1; i < lines.Count; i++)
            if (
                taken[i]
                && Array.Exists(
                    Lexer.Lex(texts[i]),
                    t =>
                        t.Kind == TokenKind.Name
                        && texts[i].AsSpan(t.Start, t.Length).Equals(name, StringComparison.OrdinalIgnoreCase)
                )
            )
                return true;
        return false;
    }

    private bool IsProse(int line) =>
        !texts[line].Contains('=', StringComparison.Ordinal) && Words(texts[line]).Length > 2;

    // The names between 'cblock' and 'endc' are code, though each by itself could be a word of the text.
    private void KnowBlocks()
    {
        int start = -1;
        for (int i = 0; i < lines.Count; i++)
        {
            if (looks[i] != Look.Code)
                continue;
            bool opens = AssemblyLook.KeywordOf(texts[i]) == Keyword.VariableBlock,
                closes = AssemblyLook.KeywordOf(texts[i]) == Keyword.EndVariableBlock;
            if (closes && start >= 0)
                for (int j = start + 1; j < i; j++)
                    if (looks[j] == Look.Perhaps)
                        looks[j] = Look.Code;
            start = opens ? i : -1;
        }
    }

    // Rows of nothing but words continue with the code above them.
    private void KnowRowsOfWords()
    {
        bool code = false;
        for (int i = 0; i < lines.Count; i++)
        {
            if (furniture.Contains(lines[i]))
                continue;
            if (code && looks[i] == Look.Perhaps && AssemblyLook.IsRowOfWords(lines[i].Text))
                looks[i] = Look.Code;
            code = looks[i] == Look.Code;
        }
    }

    // 'return', 'sleep' and 'end' close programs and sentences: alone in a row right below code, where operations of that code start, they are code.
    private void KnowTails()
    {
        int above = -1;
        for (int i = 0; i < lines.Count; i++)
        {
            if (furniture.Contains(lines[i]))
                continue;
            if (looks[i] == Look.Perhaps && above >= 0 && IsTail(i, above))
                looks[i] = Look.Code;
            above = looks[i] == Look.Code ? i : -1;
        }
    }

    // In the type of listings a lone name right above code is its label, whatever the page has printed between the pieces of the listing.
    private void KnowHeads()
    {
        var types = new HashSet<(string, int)>();
        for (int i = 0; i < lines.Count; i++)
        {
            if (looks[i] == Look.Code)
                types.Add(Style(lines[i]));
            else if (
                looks[i] == Look.Perhaps
                && lines[i].IsMonospaced
                && types.Contains(Style(lines[i]))
                && !furniture.Contains(lines[i])
                && EdgeNames.NameOf(texts[i]) is { } name
                && OperationWords.KindOf(name) == OperationKind.Unknown
                && StartsPiece(i)
            )
                looks[i] = Look.Code;
        }
    }

    private bool StartsPiece(int line)
    {
        for (int i = line + 1; i < lines.Count && lines[i].Page == lines[line].Page; i++)
            if (Style(lines[i]) == Style(lines[line]))
                return looks[i] is Look.Code or Look.Comment;
        return false;
    }

    private bool IsTail(int line, int above)
    {
        if (
            !AssemblyLook.IsBareOperation(texts[line])
            || Style(lines[line]) != Style(lines[above])
            // A word that no longer fitted into the comment above.
            || (
                texts[above].Contains(';', StringComparison.Ordinal)
                && lines[above].ColumnEnd > 0
                && !lines[above].HasRoomFor(Words(texts[line])[0])
            )
        )
            return false;
        double at = OperationX(line);
        for (int i = above, seen = 0; i >= 0 && seen < TailRows && looks[i] == Look.Code; i--, seen++)
            if (Math.Abs(OperationX(i) - at) <= SameColumn)
                return true;
        return false;
    }

    // Where the operation of a row of code starts on paper.
    private double OperationX(int line)
    {
        PrintedLine printed = lines[line];
        int column = AssemblyLook.OperationColumn(printed.Text);
        return column >= 0 && column < printed.CharacterStarts.Length ? printed.CharacterStarts[column] : printed.X;
    }

    // Whether a program begins at a line: it has a head that the part before has, too, or one that names the chip.
    private bool HasHead(bool[] taken, int start, int from)
    {
        bool address = false;
        for (int i = from, seen = 0; i < lines.Count && seen < HeadLines; i++)
        {
            if (!taken[i])
                continue;
            seen++;
            if (!AssemblyLook.IsHead(texts[i]))
                continue;
            if (AssemblyLook.KeywordOf(texts[i]) != Keyword.Org)
                return true;
            address = true;
        }

        if (!address)
            return false;
        // A head that has the chip alone continues with the first address.
        bool named = false;
        for (int i = start; i < from; i++)
        {
            if (!taken[i] || !AssemblyLook.IsHead(texts[i]))
                continue;
            if (AssemblyLook.KeywordOf(texts[i]) == Keyword.Org)
                return true;
            named = true;
        }

        return !named;
    }

    private bool[] Take()
    {
        var styles = new Dictionary<(string, int), (int Code, int Other, int All)>();
        for (int i = 0; i < lines.Count; i++)
        {
            if (furniture.Contains(lines[i]))
                continue;
            styles.TryGetValue(Style(lines[i]), out (int Code, int Other, int All) counts);
            styles[Style(lines[i])] = (
                counts.Code + (looks[i] is Look.Code or Look.Comment ? 1 : 0),
                counts.Other + (looks[i] == Look.Other ? 1 : 0),
                counts.All + 1
            );
        }

        bool[] taken = new bool[lines.Count];
        for (int i = 0; i < lines.Count; i++)
            taken[i] = looks[i] == Look.Code;
        for (int i = 0; i < lines.Count; i++)
        {
            if (furniture.Contains(lines[i]))
                continue;
            (int code, int other, int all) = styles[Style(lines[i])];
            // A font that listings are set in: what else is set in it belongs to them, too. No sentence begins as a comment does.
            if (code >= LeastCode && code * 10 >= all * 4)
                taken[i] |= code * 10 >= all * 7 || other * 10 <= all || looks[i] == Look.Comment || IsNearCode(i);
            else if (looks[i] is Look.Comment or Look.Perhaps || code * 10 >= all * 2)
                taken[i] |= IsAmongCode(i) && !IsSideHeading(i);
        }

        // Rows of words continue with the line above them, over the end of a page too; a number alone is that of a blank line.
        for (int i = 1, above = 0; i < lines.Count; i++)
        {
            if (!furniture.Contains(lines[i - 1]))
                above = i - 1;
            if (
                !taken[i]
                && taken[above]
                && !furniture.Contains(lines[i])
                && (AssemblyLook.IsRowOfWords(lines[i].Text) || IsNumberOnly(lines[i].Text))
            )
                taken[i] = true;
        }

        TakeHangingRests(taken);
        TakeRests(taken, styles);
        DropLooseEnds(taken);
        TakeMisreadHeads(taken);
        TakeRows(taken);
        return taken;
    }

    // A row that starts below the text of a comment, in its type, continues with it; so do the rows below at the same place.
    private void TakeHangingRests(bool[] taken)
    {
        double rest = -1;
        for (int i = 1, above = 0; i < lines.Count; i++)
        {
            if (!furniture.Contains(lines[i - 1]))
                above = i - 1;
            PrintedLine line = lines[i],
                before = lines[above];
            if (
                taken[i]
                || furniture.Contains(line)
                || !taken[above]
                || line.Page != before.Page
                || Style(line) != Style(before)
            )
            {
                rest = -1;
                continue;
            }

            if (rest < 0)
                rest = RemarkX(above);
            if (
                looks[i] == Look.Other
                && rest > 0
                && Math.Abs(line.X - rest) <= SameColumn
                && line.Y - before.Y < MostPitch * line.FontSize
            )
                taken[i] = true;
            else
                rest = -1;
        }
    }

    // Where the words of the remark after the code of a row start on paper; -1 where it has none, or is nothing but a remark.
    private double RemarkX(int line)
    {
        string text = lines[line].Text;
        int column = text.IndexOf(';', StringComparison.Ordinal);
        if (column <= 0 || text.AsSpan(0, column).IsWhiteSpace())
            return -1;
        while (column < text.Length && text[column] is ';' or ' ')
            column++;
        return column < lines[line].CharacterStarts.Length ? lines[line].CharacterStarts[column] : -1;
    }

    // In the type of a listing, what is right below a comment continues with it, and so do the rows below that; a name with a comment is a variable.
    private void TakeRests(bool[] taken, Dictionary<(string, int), (int Code, int Other, int All)> styles)
    {
        int rests = 0,
            above = -1;
        for (int i = 0; i < lines.Count; i++)
        {
            if (furniture.Contains(lines[i]))
                continue;
            int before = above;
            above = i;
            if (
                looks[i] is Look.Code or Look.Comment
                || !styles.TryGetValue(Style(lines[i]), out (int Code, int Other, int All) counts)
                || counts.Code < LeastCode
                || counts.Code * 10 < counts.All * 4
            )
            {
                rests = 0;
                continue;
            }

            bool isBelow = before >= 0 && taken[before] && Style(lines[i]) == Style(lines[before]);
            bool goesOn =
                isBelow
                && rests < MostRests
                && (rests > 0 || HasComment(before) || BreaksOff(before))
                && (
                    IsNext(lines[before], lines[i])
                    || (IsElsewhere(lines[before], lines[i]) && (IsAboveCode(i) || BreaksOff(before)))
                );
            rests = goesOn && !HasComment(i) ? rests + 1 : 0;
            taken[i] |=
                goesOn
                || (isBelow && (AssemblyLook.IsEnd(texts[i]) || HasComment(i)))
                || (HasComment(i) && IsBetweenCode(i));
        }
    }

    // No sentence has a blank in front of its semicolon.
    private bool HasComment(int line) =>
        texts[line].IndexOf(';', StringComparison.Ordinal) is var at and >= 0
        && (at == 0 || texts[line][at - 1] is ' ' or '\t');

    // After an operator, or in the midst of a file's name.
    private bool BreaksOff(int line)
    {
        ReadOnlySpan<char> text = texts[line].AsSpan().TrimEnd();
        return !text.IsEmpty
            && (
                text[^1] is '&' or '|' or ',' or '+'
                || (AssemblyLook.KeywordOf(texts[line]) == Keyword.Include && text.Contains('<') && !text.Contains('>'))
            );
    }

    private static bool IsElsewhere(PrintedLine above, PrintedLine line) =>
        above.Page != line.Page || above.TextColumn != line.TextColumn;

    // The type continues with code, or with a comment, after a few lines at most.
    private bool IsAboveCode(int line)
    {
        for (int i = line + 1; i < lines.Count && i - line <= 3; i++)
            if (Style(lines[i]) != Style(lines[line]))
                return false;
            else if (looks[i] is Look.Code or Look.Comment)
                return true;
        return false;
    }

    // No room for a line between two lines; nobody knows where another text column or page begins.
    private static bool IsNext(PrintedLine above, PrintedLine line) =>
        above.Page == line.Page
        && above.TextColumn == line.TextColumn
        && line.Y - above.Y < RoomOfLine * Math.Max(line.FontSize, above.FontSize);

    // What the numbers in front prove to be a row of the listing, or the rest of one, belongs to it whatever it looks like.
    private void TakeRows(bool[] taken)
    {
        for (int i = 0; i < lines.Count; i++)
            taken[i] =
                Gutter.KindOf(lines[i]) is GutterRowKind.Listing or GutterRowKind.Rest
                || (taken[i] && Gutter.KindOf(lines[i]) != GutterRowKind.Page);
    }

    // Where a machine has read the page, the lines right above a program may be its head, misread: what names the chip and the radix must not be lost.
    private void TakeMisreadHeads(bool[] taken)
    {
        for (int i = lines.Count - 2; i >= 0; i--)
        {
            if (
                taken[i]
                || !taken[i + 1]
                || !lines[i].IsOcr
                || furniture.Contains(lines[i])
                || lines[i].Page != lines[i + 1].Page
            )
                continue;
            bool starts = true;
            for (int j = i + 1; j < lines.Count && starts && taken[j]; j++)
                if (AssemblyLook.IsHead(texts[j]) && AssemblyLook.KeywordOf(texts[j]) == Keyword.List)
                    starts = false;
            if (starts && OcrLook.MayBeCode(texts[i]))
                taken[i] = true;
        }
    }

    private static bool IsNumberOnly(string text) =>
        text.AsSpan().Trim() is { Length: > 0 and <= 6 } number && number.IndexOfAnyExceptInRange('0', '9') < 0;

    // In a font of both, as in typewritten pages: a line is the program's directly after code, and not far after it where code follows.
    private bool IsNearCode(int line)
    {
        if (looks[line] == Look.Perhaps && IsBetweenCode(line))
            return true;
        for (int i = line - 1; i >= 0 && line - i <= 3; i--)
        {
            if (looks[i] is not (Look.Code or Look.Comment))
                continue;
            if (line - i == 1 || looks[line] == Look.Perhaps)
                return true;
            for (int j = line + 1; j < lines.Count && j - line <= 3; j++)
                if (looks[j] is Look.Code or Look.Comment || AssemblyLook.IsEnd(texts[j]))
                    return true;
            return false;
        }

        return false;
    }

    // What could be code, with code of its font above and below, is code that is not known: a macro's call.
    private bool IsBetweenCode(int line)
    {
        bool above = false;
        for (int i = line - 1; i >= 0 && line - i <= MostBetween && !above; i--)
            above = looks[i] is Look.Code or Look.Comment && Style(lines[i]) == Style(lines[line]);
        for (int i = line + 1; above && i < lines.Count && i - line <= MostBetween; i++)
            if (looks[i] is Look.Code or Look.Comment && Style(lines[i]) == Style(lines[line]))
                return true;
        return false;
    }

    // In a font that is mostly prose: a line is the program's only with code right above and below it.
    private bool IsAmongCode(int line)
    {
        int above = -1,
            below = -1;
        for (int i = line - 1; i >= 0 && line - i <= 3 && above < 0; i--)
            if (looks[i] == Look.Code)
                above = i;
        for (int i = line + 1; i < lines.Count && i - line <= 3 && below < 0; i++)
            if (looks[i] == Look.Code)
                below = i;
        return looks[line] == Look.Comment
            ? above >= 0 || below >= 0
            : above >= 0 && (below >= 0 || AssemblyLook.IsEnd(texts[line]));
    }

    // A word in another type than the code above and below it that is nowhere else: a heading beside or between the lines, no label.
    private bool IsSideHeading(int line)
    {
        if (looks[line] != Look.Perhaps || EdgeNames.NameOf(texts[line]) is not { } name)
            return false;
        if (OperationWords.KindOf(name) != OperationKind.Unknown)
            return false;
        int above = line - 1,
            below = line + 1;
        while (above >= 0 && looks[above] != Look.Code)
            above--;
        while (below < lines.Count && looks[below] != Look.Code)
            below++;
        return above >= 0
            && below < lines.Count
            && Style(lines[above]) == Style(lines[below])
            && Style(lines[line]) != Style(lines[above])
            && !(codeWords ??= CodeWords()).Contains(name);
    }

    // The words of the rows that are code, comments aside.
    private HashSet<string> CodeWords()
    {
        var words = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        for (int i = 0; i < lines.Count; i++)
        {
            if (looks[i] != Look.Code)
                continue;
            foreach (SyntaxToken token in Lexer.Lex(texts[i]))
                if (token.Kind == TokenKind.Name)
                    words.Add(texts[i].Substring(token.Start, token.Length));
        }

        return words;
    }

    // Code that is alone in the prose is an example, or a word of it: no program begins or ends with it.
    private void DropLooseEnds(bool[] taken)
    {
        int start = -1;
        for (int i = 0; i <= lines.Count; i++)
        {
            bool on = i < lines.Count && (taken[i] || furniture.Contains(lines[i]));
            if (on && start < 0)
                start = i;
            if (on || start < 0)
                continue;
            int code = 0,
                other = 0;
            for (int j = start; j < i; j++)
            {
                if (!taken[j])
                    continue;
                if (looks[j] is Look.Code or Look.Comment)
                    code++;
                else
                    other++;
            }

            if (code == 0 || (code < 3 && !IsListingStyle(start, i) && !IsInterleaved(start, i)))
                for (int j = start; j < i; j++)
                    taken[j] = false;
            start = -1;
        }
    }

    // A listing that is explained line by line: code a few rows above and below, at the same place of the page, again and again.
    private bool IsInterleaved(int from, int to)
    {
        int all = 0;
        foreach (int step in (ReadOnlySpan<int>)[-1, 1])
        {
            double at = OperationX(step < 0 ? from : to - 1);
            for (
                int i = step < 0 ? from - 1 : to, since = 0;
                i >= 0 && i < lines.Count && since <= MostExplained;
                i += step
            )
            {
                if (furniture.Contains(lines[i]))
                    continue;
                since++;
                if (looks[i] != Look.Code || Math.Abs(OperationX(i) - at) > SameColumn)
                    continue;
                all++;
                since = 0;
                if (all >= LeastInterleaved)
                    return true;
            }
        }

        return false;
    }

    private bool IsListingStyle(int from, int to)
    {
        for (int i = from; i < to; i++)
            if (lines[i].IsMonospaced)
                return true;
        return false;
    }

    // Bold and slanted cuts of a font are the same font here: listings print their labels or comments in them.
    private static (string, int) Style(PrintedLine line)
    {
        string family = line.FontFamily;
        int cut = family.AsSpan().IndexOfAny('-', ',');
        return (cut > 0 ? family[..cut] : family, (int)Math.Round(line.FontSize * 2));
    }
}
