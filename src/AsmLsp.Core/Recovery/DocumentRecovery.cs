using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>
/// Turns a printed document into source: finds the listing, takes off what the page put around it, and hands the text on
/// to <see cref="TextRecovery"/>. Whatever is not part of the program is reported in the report with its words.
/// </summary>
public static class DocumentRecovery
{
    // Text read with less confidence than this is doubted wherever it is; with full confidence, nowhere.
    private const double LeastConfidence = 0.6;

    /// <summary>Recovers a program from a document. Without a listing in it, the source is empty and the report says so as an error.</summary>
    public static RecoveryResult Run(PrintedDocument document, DocumentRecoveryOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(document);
        options ??= DocumentRecoveryOptions.Default;
        var state = new RecoveryState(document, options);
        foreach (RecoveryStage stage in RecoveryStage.All)
        {
            state = stage.Run(state);
            if (state.IsDone)
                break;
        }

        return state.Result!;
    }

    // The text of the lines, with a sign at each that has a doubt, and the doubts beside it: those of marks that were printed, too.
    internal static (SourceText, DoubtTable) SourceOf(List<ListingLine> lines)
    {
        var text = new StringBuilder();
        foreach (ListingLine line in lines)
            text.Append(line.Doubt is null || DoubtMark.IsOn(line.Text) ? line.Text : DoubtMark.Anchor(line.Text))
                .Append('\n');
        SourceText source = SourceText.From(text.ToString());
        DoubtTable doubts = DoubtTable.Empty;
        for (int i = 0; i < lines.Count; i++)
        {
            if (DoubtMark.Read(lines[i].Text) is { } printed)
                doubts = doubts.With(i, printed);
            if (lines[i].Doubt is { } doubt)
                doubts = doubts.With(i, doubt);
        }

        return (source, doubts);
    }

    // Rows of the document's other programs, and of the same one where it is printed again, are left out on purpose.
    internal static HashSet<PrintedPlace> PlacesElsewhere(List<Listing> listings, Listing chosen) =>
        [
            .. listings
                .Where(l => l != chosen)
                .Concat(listings.SelectMany(static l => l.Copies))
                .SelectMany(static l => l.Lines)
                .Select(static l => new PrintedPlace(l.Page, l.Number)),
        ];

    internal static RecoveryResult Nothing(DocumentRecoveryOptions options, DocumentReport report)
    {
        SourceText empty = SourceText.From("");
        ProgramAnalysis program = Assembler.Assemble(
            new SourceFile(options.Text.Name, empty),
            options.Text.Includes,
            options.Text.Assembly
        );
        return new RecoveryResult(empty, report.Entries, program);
    }

    // A page that could not be read may hold a part of the program: between its pages most likely.
    internal static void ReportPages(PrintedPage[] pages, Listing listing, DocumentReport report)
    {
        foreach (PrintedPage page in pages)
        {
            // Within the listing it is reported at its place.
            if (
                page.State == PrintedPageState.Read
                || UnreadPages.IsMissed(
                    page,
                    listing.FirstPage,
                    new ListingLine(listing.Lines[^1].Text, listing.Lines[^1])
                )
            )
                continue;
            bool near = page.Number >= listing.FirstPage - 1 && page.Number <= listing.LastPage + 1;
            report.Add(
                near ? Severity.Warning : Severity.Information,
                DocumentCodes.UnreadPage,
                $"Page {page.Number} {UnreadPages.Why(page.State)}. If a part of the program is on it, it is missing here.",
                page.Number,
                new Doubt(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"page {page.Number} could not be read: is a part of the program on it?"
                    )
                )
                {
                    Kind = DoubtKind.Missing,
                }
            );
        }

        ReportUncertain(
            [.. listing.Lines.Where(static l => l.IsOcr && !l.IsPasted)],
            report,
            "A machine has read {0} from a picture. It takes 0 for O, 1 for l and c for e: each line that may say something else is marked; compare these with the page, and count the lines."
        );
        if (listing.Lines.Exists(static l => l.IsPasted))
            report.Add(
                Severity.Warning,
                DocumentCodes.OcrText,
                "OCR has made this text: it has words that OCR misreads. How sure it was of each digit is not known. Compare the numbers with the page.",
                null,
                new Doubt("OCR has made this text: are all lines and digits right?")
            );
        ReportUncertain(
            [.. listing.Lines.Where(static l => IsUncertain(l) && !l.IsOcr)],
            report,
            "Some characters on {0} are not certain: they lie over each other or beside their columns. Compare every line with the page."
        );
    }

    private static void ReportUncertain(PrintedLine[] lines, DocumentReport report, string message)
    {
        int[] pages = [.. lines.Select(static l => l.Page).Distinct()];
        if (pages.Length > 0)
            report.Add(
                Severity.Warning,
                DocumentCodes.OcrText,
                string.Format(
                    CultureInfo.InvariantCulture,
                    message,
                    $"{(pages.Length == 1 ? "page" : "pages")} {NumberRanges.Of(pages)}"
                ),
                pages[0],
                new Doubt("a machine has read this, or its letters lie over each other: are all lines here?")
            );
    }

    // A character that is not certain in a comment that was not read from a picture changes nothing.
    private static bool IsUncertain(PrintedLine line) =>
        line.Confidence < LeastConfidence || (line.Confidence < 1 && AssemblyLook.Of(line.Text) != Look.Comment);

    internal static void ReportGutter(GutterContent gutter, DocumentReport report)
    {
        if (gutter.IsNothing)
            return;
        var parts = new List<string>();
        if (gutter.HasLineNumbers)
            parts.Add("line numbers");
        if (gutter.HasAddresses)
            parts.Add("addresses");
        if (gutter.HasWords)
            parts.Add("words");
        report.Add(
            Severity.Information,
            DocumentCodes.LeftGutter,
            $"The {string.Join(" and ", parts)} in front of the lines were taken off.",
            null
        );
    }

    // In front of a comment, the line itself has to say it: inside a text in quotes nothing else would.
    internal static List<ListingLine> ReportCharacters(List<ListingLine> lines, DocumentReport report)
    {
        var reported = new List<ListingLine>(lines.Count);
        var inComments = new List<int>();
        foreach (ListingLine line in lines)
        {
            reported.Add(
                line.Printed is { HasUncertainBlanks: true } && line.Doubt is null
                    ? line with
                    {
                        Doubt = "how many blanks are in the quotes?",
                    }
                    : line
            );
            int at = line.Text.IndexOf('\uFFFD', StringComparison.Ordinal);
            if (at < 0)
                continue;
            if (at >= CommentStart(line.Text))
            {
                inComments.Add(line.Page);
                continue;
            }

            report.Add(
                Severity.Warning,
                DocumentCodes.UnknownCharacter,
                $"The document does not say what a character of '{line.Text.Trim()}' means. Look at the page, and write it.",
                line.Page,
                new Doubt("a character is not known")
            );
            reported[^1] = line with { Doubt = line.Doubt ?? "a character here is not known" };
        }

        if (inComments.Count > 0)
            report.Add(
                Severity.Information,
                DocumentCodes.UnknownCharacter,
                $"The document does not say what some characters in {inComments.Count} comments mean. No word depends on them.",
                inComments[0] > 0 ? inComments[0] : null
            );
        return reported;
    }

    // What the reader of the document has to say is said in full in the report.
    internal static string FirstSentence(string note)
    {
        int end = note.IndexOfAny(['.', ':']);
        return end < 0 ? note : note[..end];
    }

    private static int CommentStart(string text)
    {
        foreach (SyntaxToken token in Lexer.Lex(text))
            if (token.Kind == TokenKind.Comment)
                return token.Start;
        return text.Length;
    }

    // Room between lines that is wide enough for a line becomes a blank one.
    internal static List<ListingLine> WithRoom(List<PrintedLine> printed, ListingFinder finder, bool keepProse)
    {
        double pitch = Pitch(printed);
        var own = new HashSet<PrintedLine>(printed, ReferenceEqualityComparer.Instance);
        var lines = new List<ListingLine>();
        IEnumerable<PrintedLine> all = keepProse ? finder.Lines : printed;
        PrintedLine? before = null,
            above = null;
        var neighbors = new HashSet<PrintedLine>(ReferenceEqualityComparer.Instance);
        var parted = new HashSet<PrintedLine>(ReferenceEqualityComparer.Instance);
        bool isParted = false;
        foreach (PrintedLine line in finder.Lines)
        {
            if (above is not null && own.Contains(above))
                neighbors.Add(line);
            above = line;
            if (!own.Contains(line))
            {
                isParted |= !finder.IsHeaderOrFooter(line);
                continue;
            }

            if (isParted)
                parted.Add(line);
            isParted = false;
        }

        foreach (PrintedLine line in all)
        {
            if (!own.Contains(line))
            {
                string text = line.Text.Trim();
                lines.Add(new ListingLine(text.StartsWith(';') ? text : "; " + text, line) { IsProse = true });
                continue;
            }

            if (before is not null && before.Page == line.Page && pitch > 0)
            {
                double room = (line.Y - before.Y) / pitch;
                // What was set aside between two lines took the room.
                for (int i = Math.Min(2, (int)Math.Round(room) - 1); i > 0 && neighbors.Contains(line); i--)
                    lines.Add(new ListingLine("", null));
            }

            lines.Add(
                new ListingLine(line.Text, line)
                {
                    FollowsText = parted.Contains(line),
                    Doubt = line.Question is { } question ? new Doubt(question) { Kind = DoubtKind.Picture } : null,
                }
            );
            before = line;
        }

        return lines;
    }

    private static double Pitch(List<PrintedLine> lines)
    {
        var steps = new List<double>();
        for (int i = 1; i < lines.Count; i++)
            if (lines[i].Page == lines[i - 1].Page && lines[i].Y > lines[i - 1].Y)
                steps.Add(lines[i].Y - lines[i - 1].Y);
        steps.Sort();
        return steps.Count == 0 ? 0 : steps[steps.Count / 2];
    }

    // What the document has to say beside what the text had, at the lines of the source.
    internal static RecoveryResult WithDocument(
        RecoveryResult result,
        List<ListingLine> lines,
        List<ListingLine> joined,
        DocumentReport report
    )
    {
        var lineOf = new Dictionary<PrintedPlace, int>();
        for (int i = 0; i < result.Origins.Length; i++)
            foreach (PrintedPlace place in result.Origins[i].Places)
                lineOf.TryAdd(place, i);
        List<RecoveryEntry> entries = [.. report.Placed(lines, lineOf), .. result.Entries];
        foreach (ListingLine whole in joined)
        {
            int line = lineOf.GetValueOrDefault(whole.Origin.Places[0]);
            entries.Add(
                new RecoveryEntry(
                    line,
                    0,
                    result.Source[line].Text.Length,
                    Severity.Information,
                    DocumentCodes.WrappedComment,
                    "The comment continued in the next printed line, and was joined.",
                    whole.Page
                )
            );
        }

        return result with
        {
            Entries = [.. entries],
        };
    }
}
