using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Audit;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>
/// The report of what a document held beside the program. It is at the first line, where no line of the source is
/// meant; a line that was left out of the middle of the program is reported where it is missing.
/// </summary>
internal sealed class DocumentReport
{
    private readonly ImmutableArray<RecoveryEntry>.Builder entries = ImmutableArray.CreateBuilder<RecoveryEntry>();

    /// <summary>The place of a page among the pages as they are read.</summary>
    public Func<int, int> RankOf { get; set; } = static page => page;

    public ImmutableArray<RecoveryEntry> Entries => entries.ToImmutable();

    // Entries about a printed line that is not in the source.
    private readonly List<(int Entry, PrintedLine Printed)> places = [];

    // Entries about a line that is.
    private readonly List<(int Entry, PrintedPlace Place)> own = [];

    /// <summary>The report, with each line that was left out reported at the line of the source after which it was.</summary>
    public IEnumerable<RecoveryEntry> Placed(List<ListingLine> lines, Dictionary<PrintedPlace, int> lineOf)
    {
        var placed = new List<RecoveryEntry>(entries);
        foreach ((int entry, PrintedLine printed) in places)
        {
            int at = lines.FindLastIndex(l =>
                l.Printed is { } p
                && (RankOf(p.Page) < RankOf(printed.Page) || (p.Page == printed.Page && p.Number < printed.Number))
            );
            if (at >= 0 && lineOf.TryGetValue(lines[at].Origin.Places[0], out int line))
                placed[entry] = placed[entry] with { Line = line };
        }

        foreach ((int entry, PrintedPlace place) in own)
            if (lineOf.TryGetValue(place, out int line))
                placed[entry] = placed[entry] with { Line = line };
        return placed;
    }

    /// <summary>Adds an entry about the document.</summary>
    /// <param name="severity">How much it weighs.</param>
    /// <param name="code">Its code of <see cref="DocumentCodes"/>.</param>
    /// <param name="message">What is wrong, where, and what to do.</param>
    /// <param name="page">The page, or null.</param>
    /// <param name="doubt">What is to be in the source for it.</param>
    public void Add(Severity severity, string code, string message, int? page, Doubt? doubt = null) =>
        entries.Add(
            new RecoveryEntry(0, 0, 0, severity, code, message, page)
            {
                Doubt = doubt is null
                    ? null
                    : doubt with
                    {
                        Kind = doubt.Kind == DoubtKind.Other ? DoubtKind.Document : doubt.Kind,
                    },
            }
        );

    // A mark is no place for a whole line.
    private const int MostQuoted = 40;

    // Left and right part of a header are far apart on the page; here the words matter.
    private static string InOneLine(string text) =>
        string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static string Quoted(string text)
    {
        text = text.Trim().Replace(DoubtMark.Sign, "; ?", StringComparison.Ordinal).Replace('[', '(').Replace(']', ')');
        return text.Length > MostQuoted ? text[..(MostQuoted - 3)] + "..." : text;
    }

    /// <summary>Reports something about a printed line of the program, at its place.</summary>
    public void AddAt(
        PrintedLine printed,
        string code,
        string message,
        Severity severity = Severity.Information,
        Doubt? doubt = null
    )
    {
        own.Add((entries.Count, new PrintedPlace(printed.Page, printed.Number)));
        Add(severity, code, message, printed.Page, doubt);
    }

    /// <summary>Reports what is not in the source, with its words: page header or footer lines once each, other text page by page.</summary>
    public void ReportAside(List<AsideLine> aside, List<Listing> listings, Listing chosen, bool kept)
    {
        // Kept text is in the source itself.
        if (kept)
            return;
        var headersAndFooters = new List<(string Text, SortedSet<int> Pages)>();
        var byText = new Dictionary<string, int>(StringComparer.Ordinal);
        var others = new HashSet<PrintedLine>(
            listings
                .Where(l => l != chosen)
                .Concat(listings.SelectMany(static l => l.Copies))
                .SelectMany(static l => l.Lines),
            ReferenceEqualityComparer.Instance
        );
        var types = new HashSet<(string, double)>(
            chosen.Lines.Where(static l => l.IsMonospaced).Select(static l => (l.FontFamily, l.FontSize))
        );
        bool isMonospaced = chosen.Lines.Count(static l => l.IsMonospaced) * 10 > chosen.Lines.Count * 9;
        HashSet<string> families = [.. chosen.Lines.Select(static l => l.FontFamily)],
            names = NamesOf(chosen.Lines);
        var prose = new SortedDictionary<int, List<string>>();
        for (int i = 0; i < aside.Count; i++)
        {
            AsideLine line = aside[i];
            PrintedLine printed = line.Printed;
            if (others.Contains(printed))
                continue;
            if (line.IsHeaderOrFooter)
            {
                string key = Key(printed.Text);
                if (!byText.TryGetValue(key, out int index))
                {
                    byText[key] = index = headersAndFooters.Count;
                    headersAndFooters.Add((InOneLine(printed.Text), []));
                }

                headersAndFooters[index].Pages.Add(printed.Page);
                continue;
            }

            // Words of the text around a listing, in the text's own type: nothing of the program is among them.
            bool isText =
                isMonospaced
                && !printed.IsMonospaced
                && !printed.IsOcr
                && !families.Contains(printed.FontFamily)
                && !printed.FontNames.Any(families.Contains)
                && AssemblyLook.Of(printed.Text) is not (Look.Code or Look.Comment)
                && (!HasWordOf(printed.Text, names) || IsOfParagraph(aside, i));
            // A line within the program in the type of the program may be a rest of it, whatever it looks like; so may one that was read from a picture.
            if (
                line.IsNear
                || (
                    line.IsInside
                    && !isText
                    && (
                        printed.IsOcr
                        || AssemblyLook.Of(printed.Text) != Look.Other
                        || IsShort(printed.Text)
                        || printed.Text.Contains('\uFFFD', StringComparison.Ordinal)
                        || types.Contains((printed.FontFamily, printed.FontSize))
                    )
                )
            )
            {
                places.Add((entries.Count, printed));
                Add(
                    Severity.Warning,
                    DocumentCodes.SetAside,
                    $"'{printed.Text.Trim()}' {(line.IsInside ? "is among the lines of the program here" : "is next to the program here")}, but does not read as one of them, and was left out. Put it in if it belongs there.",
                    printed.Page,
                    new Doubt($"was '{Quoted(printed.Text)}' left out below?") { Kind = DoubtKind.Missing }
                );
                continue;
            }

            if (!prose.TryGetValue(printed.Page, out List<string>? texts))
                prose[printed.Page] = texts = [];
            texts.Add(printed.Text.Trim());
        }

        foreach ((string text, SortedSet<int> pages) in headersAndFooters)
            Add(
                Severity.Information,
                DocumentCodes.SetAside,
                $"Left out as page header or footer{(pages.Min > 0 ? $" ({(pages.Count == 1 ? "page" : "pages")} {NumberRanges.Of(pages)})" : "")}: {text}",
                pages.Min
            );
        foreach ((int page, List<string> texts) in prose)
            Add(
                Severity.Information,
                DocumentCodes.SetAside,
                "Left out as no part of the program: " + string.Join(" / ", texts),
                page
            );
    }

    /// <summary>Reports what is on the pages beside their lines, page by page: words of drawings, headings in the margin, turned text.</summary>
    public void ReportSetAside(IEnumerable<PrintedPage> pages)
    {
        foreach (PrintedPage page in pages)
        foreach (bool isDrawn in (ReadOnlySpan<bool>)[true, false])
        {
            string words = string.Join(
                " / ",
                page.SetAside.Where(l => l.Figure > 0 == isDrawn).Select(static l => l.Text.Trim())
            );
            if (words.Length > 0)
                Add(
                    Severity.Information,
                    DocumentCodes.SetAside,
                    $"{(isDrawn ? "Left out as the words of drawings: " : "Left out as text beside the lines of the page: ")}{words}",
                    page.Number
                );
        }
    }

    // The names that the code of a listing has, as its operands or in front of its operations.
    private static HashSet<string> NamesOf(List<PrintedLine> lines)
    {
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (PrintedLine line in lines)
        {
            if (AssemblyLook.Of(line.Text) != Look.Code)
                continue;
            foreach (SyntaxToken token in Lexer.Lex(line.Text))
                if (token.Kind == TokenKind.Name)
                    names.Add(line.Text.Substring(token.Start, token.Length));
        }

        return names;
    }

    // A row of one or two words, the first of which is a name of the program.
    private static bool HasWordOf(string text, HashSet<string> names)
    {
        string[] words = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return words.Length is 1 or 2 && names.Contains(words[0].TrimEnd(':'));
    }

    // The row above or below is set in the same type right there: a paragraph, in which any word may be alone in a row.
    private static bool IsOfParagraph(List<AsideLine> aside, int at)
    {
        PrintedLine line = aside[at].Printed;
        return (at > 0 && IsBeside(aside[at - 1].Printed)) || (at + 1 < aside.Count && IsBeside(aside[at + 1].Printed));

        bool IsBeside(PrintedLine other) =>
            other.Page == line.Page
            && Typeface.Of(other) == Typeface.Of(line)
            && Math.Abs(other.X - line.X) < line.FontSize / 2
            && Math.Abs(other.Y - line.Y) < 2 * line.FontSize;
    }

    // Two words, or some with a comment after them, may be the call of a macro that nobody knows.
    private static bool IsShort(string text) =>
        text.Contains(';', StringComparison.Ordinal)
        || text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Length <= 2;

    private static string Key(string text) =>
        string.Concat(text.Where(static c => !char.IsDigit(c) && !char.IsWhiteSpace(c)));
}
