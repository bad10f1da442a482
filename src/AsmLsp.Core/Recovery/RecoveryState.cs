using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>All that is known of a document while it is recovered: the one value that every stage takes and gives.</summary>
/// <param name="Document">The document as it was read.</param>
/// <param name="Options">What is known beside it.</param>
internal sealed record RecoveryState(PrintedDocument Document, DocumentRecoveryOptions Options)
{
    /// <summary>What is to be said of the document; written to by the stages, and joined to the result's report.</summary>
    public DocumentReport Report { get; } = new();

    /// <summary>The pages that are wanted, as they were read.</summary>
    public ImmutableArray<PrintedPage> Pages { get; init; } = [];

    /// <summary>The same with what was glued together parted.</summary>
    public PrintedPage[] Parted { get; init; } = [];

    /// <summary>What found the listings, with the headers and footers and the gutter of the pages.</summary>
    public ListingFinder? Finder { get; init; }

    /// <summary>The listings of the document, as they were found once for all of them.</summary>
    public FoundDocument? Found { get; init; }

    /// <summary>The programs of the document.</summary>
    public List<Listing> Listings { get; init; } = [];

    /// <summary>The one that is recovered.</summary>
    public Listing? Listing { get; init; }

    /// <summary>What the document holds beside it.</summary>
    public List<AsideLine> Aside { get; init; } = [];

    /// <summary>The lines on their way to the source.</summary>
    public List<ListingLine> Lines { get; init; } = [];

    /// <summary>What was in front of the lines.</summary>
    public GutterContent Gutter { get; init; }

    /// <summary>Rows of which the numbers in front of them prove what they are; added to by the stages that find it, for the auditor.</summary>
    public HashSet<PrintedPlace> Proved { get; } = [];

    /// <summary>What is missing between the lines.</summary>
    public List<MissingPiece> Missing { get; init; } = [];

    /// <summary>Lines that other printed lines were joined to, to be reported.</summary>
    public List<ListingLine> Wholes { get; init; } = [];

    /// <summary>Printed rows below a comment that are rows of the program: their place has reported.</summary>
    public HashSet<PrintedPlace> KnownRows { get; init; } = [];

    /// <summary>The files that the program includes and that the document prints by themselves.</summary>
    public ImmutableArray<PrintedFile> Files { get; init; } = [];

    /// <summary>The names of the printed files that are being read, one including the next; empty for the program itself.</summary>
    public ImmutableHashSet<string> Opening { get; init; } =
        ImmutableHashSet.Create<string>(StringComparer.OrdinalIgnoreCase);

    /// <summary>Lines that something is to be reported about.</summary>
    public List<(ListingLine At, string Message)> Notes { get; init; } = [];

    /// <summary>The source with its doubts and its report, from the stage on that repairs the text.</summary>
    public RecoveryResult? Result { get; init; }

    /// <summary>Whether nothing is left to do, because there is nothing to recover.</summary>
    public bool IsDone { get; init; }
}
