using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Lines of the page inside the program: headers, footers, page numbers. They are known by what they are (a page
/// number), by coming again (digits aside), and by the place (beside a page number or a form feed). A line that could
/// be the call of a macro whose file is missing is never taken for one by repetition alone.
/// </summary>
internal sealed class HeaderOrFooter : PrintCheck
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.HeaderOrFooter];

    public override void Find(CheckedFile view)
    {
        List<Candidate>? candidates = null;
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (shape.Has(LineTraits.Blank | LineTraits.CommentOnly | LineTraits.CodeLike | LineTraits.Doubt))
                continue;
            LineRole role = view.Role(line);
            if ((role & (LineRole.AfterEnd | LineRole.MacroCall)) != 0)
                continue;
            // Members of a block are names by themselves: nothing but repetition can know a header among them.
            if (view.Words(line) > 0 && view.TroubleOf(line) == Trouble.None)
                continue;
            if (view.Syntax(line).ColonToken >= 0)
                continue;
            (candidates ??= []).Add(new Candidate(line, shape, view));
        }

        if (candidates is null)
            return;
        Judge(view, candidates);
        foreach (Candidate candidate in candidates)
            if (candidate.IsHeaderOrFooter)
                view.Report(
                    Catalogue.HeaderOrFooter,
                    candidate.Line,
                    view.Visible(candidate.Line),
                    candidate.Line,
                    Explains.WholeLine,
                    view.Quote(candidate.Line)
                );
    }

    internal override void Offer(FixRequest request) =>
        request.Add(
            Certainty.Certain,
            "Make it a comment",
            Doubt.Remark("taken as a line of the page"),
            request.Edit(request.Problem.Place.Columns.Start, request.Problem.Place.Columns.Start, "; ")
        );

    private static void Judge(CheckedFile view, List<Candidate> candidates)
    {
        candidates.RemoveAll(c => !c.IsPageNumber && view.MayHideCode(c.Line));
        foreach (Candidate candidate in candidates)
            candidate.IsHeaderOrFooter =
                candidate.IsPageNumber && (candidate.IsExplicitNumber || !BelongsToLineAbove(view, candidate.Line));

        var groups = new Dictionary<string, List<Candidate>>(StringComparer.Ordinal);
        foreach (Candidate candidate in candidates)
        {
            if (candidate.IsHeaderOrFooter)
                continue;
            string key = Key(view.TextOf(candidate.Line));
            if (!groups.TryGetValue(key, out List<Candidate>? group))
                groups.Add(key, group = []);
            group.Add(candidate);
        }

        // A line beside one that is known is at the page's edge itself; twice around is enough for headers of three lines.
        for (int round = 0; round < 3; round++)
        {
            var known = new HashSet<int>();
            foreach (Candidate candidate in candidates)
                if (candidate.IsHeaderOrFooter)
                    known.Add(candidate.Line);
            bool changed = false;
            foreach (List<Candidate> group in groups.Values)
            {
                if (group.Count < 2 || group[0].IsHeaderOrFooter || !IsRepeatedHeaderOrFooter(view, group, known))
                    continue;
                foreach (Candidate candidate in group)
                    candidate.IsHeaderOrFooter = true;
                changed = true;
            }

            changed |= CountOn(view, candidates);
            if (!changed)
                break;
        }
    }

    // 'Lamp timer, page 2' between the bare numbers 1 and 3, or after one of them, counts the pages with them.
    private static bool CountOn(CheckedFile view, List<Candidate> candidates)
    {
        bool changed = false;
        for (int i = 0; i < candidates.Count; i++)
        {
            Candidate candidate = candidates[i];
            if (candidate.IsHeaderOrFooter || !view.TextOf(candidate.Line).AsSpan().Trim().Contains(' '))
                continue;
            int number = NumberAfterPageWord(view.TextOf(candidate.Line));
            if (number < 0)
                continue;
            int above = i - 1,
                below = i + 1;
            while (above >= 0 && !candidates[above].IsHeaderOrFooter)
                above--;
            while (below < candidates.Count && !candidates[below].IsHeaderOrFooter)
                below++;
            if (
                (above >= 0 && NumberOf(view, candidates[above]) == number - 1)
                || (below < candidates.Count && NumberOf(view, candidates[below]) == number + 1)
            )
                changed = candidate.IsHeaderOrFooter = true;
        }

        return changed;
    }

    private static int NumberOf(CheckedFile view, Candidate candidate) =>
        PageNumber.TryRead(view.TextOf(candidate.Line).AsSpan().Trim().Trim('\f'), out int number, out _)
            ? number
            : NumberAfterPageWord(view.TextOf(candidate.Line));

    private static bool IsRepeatedHeaderOrFooter(CheckedFile view, List<Candidate> group, HashSet<int> known)
    {
        // Pages may be short where each says its number.
        bool rise = NumbersRise(view, group);
        for (int i = 1; i < group.Count && !rise; i++)
            if (group[i].Line - group[i - 1].Line < 8)
                return false;
        foreach (Candidate candidate in group)
        {
            if (
                candidate.Shape.Has(LineTraits.LoneName)
                && view.Program.FindSymbol(view.TextOf(candidate.Line).Trim()) is { IsReferenced: true }
            )
                return false;
            if (view.Program.FindSymbol(view.Syntax(candidate.Line).Operation ?? "") is { Kind: SymbolKind.Macro })
                return false;
        }

        if (rise || group.TrueForAll(c => c.Shape.Has(LineTraits.Prose)))
            return true;
        if (group.TrueForAll(c => StandsAtPageEdge(view, c.Line, known)))
            return true;
        // Names with a number for each bank or step are in many a block: there repetition proves nothing, and each member takes a register.
        return IsRegular(group)
            && !group.Exists(c => (view.Role(c.Line) & LineRole.BlockMember) != 0 && IsSound(view, c))
            && !group.TrueForAll(c => c.Shape.Has(LineTraits.LoneName) && IsSound(view, c));
    }

    private static bool IsSound(CheckedFile view, Candidate candidate) =>
        (view.TroubleOf(candidate.Line) & Trouble.Error) == 0;

    // 'Lamp timer, page 1' and further down 'Lamp timer, page 2'.
    private static bool NumbersRise(CheckedFile view, List<Candidate> group)
    {
        int last = -1;
        foreach (Candidate candidate in group)
        {
            int number = NumberAfterPageWord(view.TextOf(candidate.Line));
            if (number < 0 || (last >= 0 && number != last + 1))
                return false;
            last = number;
        }

        return true;
    }

    private static int NumberAfterPageWord(ReadOnlySpan<char> text)
    {
        for (int at = 0; at < text.Length; )
        {
            if (!char.IsLetter(text[at]))
            {
                at++;
                continue;
            }

            int start = at;
            while (at < text.Length && char.IsLetter(text[at]))
                at++;
            if (!PageWords.IsPage(text[start..at]))
                continue;
            int digits = at;
            while (digits < text.Length && text[digits] is ' ' or '.' or ':' or '\t')
                digits++;
            int end = digits;
            while (end < text.Length && char.IsAsciiDigit(text[end]))
                end++;
            if (end - digits is > 0 and <= 4)
                return int.Parse(text[digits..end], System.Globalization.CultureInfo.InvariantCulture);
        }

        return -1;
    }

    private static bool StandsAtPageEdge(CheckedFile view, int line, HashSet<int> known)
    {
        if (view.Shape(line).Has(LineTraits.FormFeed))
            return true;
        foreach (int step in (ReadOnlySpan<int>)[-1, 1])
        {
            for (int i = line + step, blanks = 0; i >= 0 && i < view.LineCount && blanks < 5; i += step, blanks++)
            {
                LineShape shape = view.Shape(i);
                if (known.Contains(i) || shape.Has(LineTraits.FormFeed))
                    return true;
                if (!shape.Has(LineTraits.Blank))
                    break;
            }
        }

        return false;
    }

    // Three times or more at the distance of a page.
    private static bool IsRegular(List<Candidate> group)
    {
        if (group.Count < 3)
            return false;
        int least = int.MaxValue,
            most = 0;
        for (int i = 1; i < group.Count; i++)
        {
            int distance = group[i].Line - group[i - 1].Line;
            least = Math.Min(least, distance);
            most = Math.Max(most, distance);
        }

        return least >= 25 && most - least <= 4;
    }

    // A number alone may be the rest of the line above: 'movlw' and '5', 'dt 1,2,' and '3', a macro's call and its argument.
    private static bool BelongsToLineAbove(CheckedFile view, int line)
    {
        int above = view.Above(line, overComments: true);
        return above >= 0
            && (
                MayTakeNumber(view.Syntax(above))
                || (view.Role(above) & LineRole.MacroCall) != 0
                    && view.Syntax(above).OperandSpan.Length == 0
                    && TakesArguments(view, above)
                || view.Shape(above).Has(LineTraits.EndsOpen)
                || ((view.TroubleOf(above) & Trouble.Error) != 0 && view.Syntax(above).OperandSpan.Length == 0)
            );
    }

    // 'cblock' and 'code' mean something with a number and without.
    private static bool MayTakeNumber(LineSyntax syntax) =>
        syntax.OperandSpan.Length == 0 && syntax.Has(WordTraits.NumberIsOptional);

    private static bool TakesArguments(CheckedFile view, int call)
    {
        LineSyntax syntax = view.Syntax(call);
        return view.Program.FindSymbol(syntax.Operation ?? syntax.Label ?? "") is { Kind: SymbolKind.Macro } macro
            && LineSyntax.Of(macro.Definition.File.Text[macro.Definition.Line]).OperandSpan.Length > 0;
    }

    private static string Key(string text)
    {
        Span<char> key = text.Length <= 256 ? stackalloc char[256] : new char[text.Length];
        int length = 0;
        foreach (char c in text.AsSpan().Trim())
        {
            char put =
                char.IsDigit(c) ? '#'
                : Lexer.IsBlank(c) ? ' '
                : char.ToLowerInvariant(c);
            if (length > 0 && put == key[length - 1] && put is '#' or ' ')
                continue;
            key[length++] = put;
        }

        return key[..length].ToString();
    }

    private sealed class Candidate
    {
        public Candidate(int line, LineShape shape, CheckedFile view)
        {
            (Line, Shape) = (line, shape);
            IsPageNumber = PageNumber.TryRead(view.TextOf(line).AsSpan().Trim().Trim('\f'), out _, out bool isExplicit);
            IsExplicitNumber = isExplicit;
        }

        public int Line { get; }

        public LineShape Shape { get; }

        public bool IsPageNumber { get; }

        public bool IsExplicitNumber { get; }

        public bool IsHeaderOrFooter { get; set; }
    }
}
