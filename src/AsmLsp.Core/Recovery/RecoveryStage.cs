using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Audit;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>One stage on the way from a printed document to a source. Each runs once, in the order of <see cref="All"/>; docs/architecture.md says the same way in words.</summary>
/// <param name="Name">What the stage does.</param>
/// <param name="Run">Takes what is known, and gives what is known after it.</param>
internal sealed record RecoveryStage(string Name, Func<RecoveryState, RecoveryState> Run)
{
    /// <summary>The stages in order. The auditor, which uses nothing of the others, is the last to find anything; then the marks are written.</summary>
    public static ImmutableArray<RecoveryStage> All { get; } =
    [
        new("take the pages", TakePages),
        new("find the listings", FindListings),
        new("choose one", Choose),
        new("lay out its lines", LayOut),
        new("take off the gutter", TakeOffGutter),
        new("mark remarks without a sign", SignRemarks),
        new("find what is missing", FindMissing),
        new("join what the print parted", Join),
        new("take in the files that are printed", PrintedFiles.TakeIn),
        new("report what is left out", ReportAside),
        new("repair the text", Repair),
        new("place the report", PlaceReport),
        new("mark what is missing", static s => With(s, r => MissingPieces.Mark(r, s.Missing))),
        new("compare the printed words", static s => With(s, r => PrintedWords.Compare(r, s.Lines, s.Missing))),
        new("look for settings elsewhere", static s => With(s, r => ScatteredConfiguration.Mark(r, s.Lines, s.Aside))),
        new("doubt what was read from pictures", static s => With(s, r => OcrDoubts.Mark(r, s.Lines))),
        new("explain what lost lines leave", ExplainLost),
        new("doubt the document", static s => With(s, r => DocumentDoubts.Mark(r, s.Listing!.FirstPage))),
        new("report on the printed files", static s => With(s, r => PrintedFiles.WithProblems(r, s.Files))),
        new("audit", Audit),
        new("write the marks", static s => With(s, RecoveredDoubts.Write)),
    ];

    /// <summary>The stages that a listing goes through once it is chosen; a printed file that a program includes goes through them by itself.</summary>
    public static IEnumerable<RecoveryStage> OfListing => All.SkipWhile(static s => s.Run != LayOut);

    private static RecoveryState With(RecoveryState state, Func<RecoveryResult, RecoveryResult> change) =>
        state with
        {
            Result = change(state.Result!),
        };

    private static RecoveryState TakePages(RecoveryState state)
    {
        foreach (string note in state.Document.Notes)
            state.Report.Add(
                Severity.Warning,
                DocumentCodes.ReadingNote,
                note,
                null,
                new Doubt(DocumentRecovery.FirstSentence(note))
            );
        var found = FoundDocument.Of(state.Document, state.Options.Pages);
        state.Report.RankOf = found.RankOf;
        if (found.Sequence is { } sequence)
            state.Report.Add(Severity.Information, DocumentCodes.PageOrder, sequence.Message, null);
        return state with { Found = found, Pages = found.Pages, Parted = found.Parted };
    }

    private static RecoveryState FindListings(RecoveryState state) =>
        state with
        {
            Finder = state.Found!.Finder,
            Listings = state.Found.Listings,
        };

    private static RecoveryState Choose(RecoveryState state)
    {
        if (ListingChoice.Of(state.Found!.Candidates, state.Options, state.Report) is not { } listing)
            return state with { Result = DocumentRecovery.Nothing(state.Options, state.Report), IsDone = true };
        foreach (Listing copy in listing.Copies)
            state.Report.Add(
                Severity.Information,
                DocumentCodes.SeveralListings,
                $"The same listing is printed again on {DocumentListings.InWords([.. copy.Lines.Select(static l => l.Page).Distinct()])}; it was taken once.",
                copy.FirstPage
            );
        ListingChoice.ReportCopies(state.Found.Listings, listing, state.Report);
        DocumentRecovery.ReportPages(state.Parted, listing, state.Report);
        return state with { Listing = listing, Aside = [.. state.Finder!.Aside(listing)] };
    }

    private static RecoveryState LayOut(RecoveryState state) =>
        state with
        {
            Lines = DocumentRecovery.WithRoom(state.Listing!.Lines, state.Finder!, state.Options.KeepProse),
        };

    private static RecoveryState TakeOffGutter(RecoveryState state)
    {
        (List<ListingLine> lines, GutterContent gutter) = LeftGutter.Strip(state.Lines, state.Finder!.Gutter);
        (lines, var included) = IncludedRows.Resolve(lines, state.Options.Text, state.Proved);
        return state with { Lines = lines, Gutter = gutter, Notes = [.. included] };
    }

    private static RecoveryState SignRemarks(RecoveryState state)
    {
        (List<ListingLine> lines, List<ListingLine> signed) = UnsignedRemarks.Sign(state.Lines);
        if (signed.Count > 0)
            state.Report.Add(
                Severity.Information,
                Catalogue.CommentWithoutMark.Code,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{signed.Count} lines have a remark in a column of its own without ';': each was made a comment."
                ),
                signed[0].Page > 0 ? signed[0].Page : null
            );
        return state with { Lines = lines };
    }

    private static RecoveryState FindMissing(RecoveryState state)
    {
        List<MissingPiece> missing = MissingLines.Find(state.Lines, state.Aside);
        missing.AddRange(MissingPages.Find(state.Lines, state.Aside, missing, state.Found!.RankOf));
        missing.AddRange(UnreadPages.Find(state.Parted, state.Lines));
        missing.AddRange(OcrGaps.Find(state.Lines));
        return state with { Missing = missing };
    }

    private static RecoveryState Join(RecoveryState state)
    {
        (List<ListingLine> lines, List<int> numbered) = NumberedRests.Join(state.Lines, state.Proved);
        List<ListingLine> wholes = [.. numbered.Select(i => lines[i])];
        (lines, List<ListingLine> wordless) = WordlessLines.Join(lines, state.Options.Text, state.Proved);
        wholes.AddRange(wordless);
        (lines, List<int> broken) = HardWraps.Join(Hyphenation.Join(lines));
        RecoveryOptions options = state.Options.Text;
        WrappedRests.Result rests = WrappedRests.Join(
            lines,
            broken,
            text => Assembler.Assemble(new SourceFile(options.Name, text), options.Includes, options.Assembly)
        );
        return state with
        {
            Lines = rests.Lines,
            Wholes = [.. wholes, .. rests.Joined.Select(i => rests.Lines[i])],
            KnownRows = rests.KnownRows,
        };
    }

    private static RecoveryState ReportAside(RecoveryState state)
    {
        DocumentReport report = state.Report;
        // What is beside a printed file is beside the program that includes it, and reported there.
        if (state.Opening.IsEmpty)
        {
            report.ReportAside(state.Aside, state.Listings, state.Listing!, state.Options.KeepProse);
            report.ReportSetAside(state.Pages);
        }

        DocumentRecovery.ReportGutter(state.Gutter, report);
        foreach ((ListingLine at, string message) in state.Notes)
            report.AddAt(at.Printed!, DocumentCodes.LeftGutter, message);
        return state with
        {
            Lines = ColumnDoubts.Mark(BrokenWords.Mark(DocumentRecovery.ReportCharacters(state.Lines, report))),
        };
    }

    private static RecoveryState Repair(RecoveryState state)
    {
        (SourceText source, DoubtTable doubts) = DocumentRecovery.SourceOf(state.Lines);
        RowProof? proof = RowProof.Of(state.Lines);
        RecoveryOptions options = state.Options.Text with
        {
            Origins = [.. state.Lines.Select(static l => l.Origin)],
            Proof = proof,
            KnownRows = state.KnownRows,
            AfterText = state
                .Lines.Where(static l => l.FollowsText)
                .SelectMany(static l => l.Origin.Places)
                .ToHashSet(),
            Quality =
                state.Lines.Exists(static l => l.Printed is { IsOcr: true }) ? TextQuality.Ocr
                : state.Lines.Exists(static l => l.Printed is { Page: 0 }) ? TextQuality.Unknown
                : TextQuality.Clear,
        };
        RecoveryResult result = TextRecovery.Repair(source, options, doubts);
        return state with { Result = proof?.Resolve(result) ?? result };
    }

    private static RecoveryState PlaceReport(RecoveryState state) =>
        With(state, r => DocumentRecovery.WithDocument(r, state.Lines, state.Wholes, state.Report));

    private static RecoveryState ExplainLost(RecoveryState state) =>
        With(
            state,
            r =>
            {
                (RecoveryResult placed, HashSet<RecoveryEntry> entries) = LostDefinitions.Place(
                    r,
                    state.Lines,
                    [.. state.Aside.Select(a => (a.Printed, state.Finder!.Gutter.TextOf(a.Printed)))],
                    state.Found!.RankOf
                );
                return MissingHints.Add(placed, entries);
            }
        );

    private static RecoveryState Audit(RecoveryState state) =>
        With(
            state,
            r =>
                Auditor.Check(
                    state.Pages,
                    r,
                    DocumentRecovery.PlacesElsewhere(state.Listings, state.Listing!),
                    state.Proved,
                    RowProof.Of(state.Lines)?.Rows,
                    state.Options.Text.IsOutside
                )
        );
}
