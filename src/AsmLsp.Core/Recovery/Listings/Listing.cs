using AsmLsp.Core.Printed;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>A listing of the document: its printed lines, and how many of them are code beyond doubt.</summary>
internal sealed class Listing
{
    private readonly Lazy<ListingNames> names;
    private readonly Lazy<string?> chip;
    private readonly Lazy<List<string>> lacking;
    private readonly Lazy<(List<string> Lines, List<int> Rows)> code;

    /// <param name="lines">Its printed lines.</param>
    /// <param name="texts">Their texts without the numbers in front of them.</param>
    /// <param name="codeLines">How many of them are code beyond doubt.</param>
    public Listing(List<PrintedLine> lines, List<string> texts, int codeLines)
    {
        (Lines, Texts, CodeLines) = (lines, texts, codeLines);
        names = new Lazy<ListingNames>(() => new ListingNames(texts));
        chip = new Lazy<string?>(() => DocumentListings.ChipOf(this));
        code = new Lazy<(List<string>, List<int>)>(() => ListingParts.CodeWithRows(texts));
        lacking = new Lazy<List<string>>(() => Names.Lacking(Chip));
    }

    public List<PrintedLine> Lines { get; }

    public List<string> Texts { get; }

    public int CodeLines { get; }

    /// <summary>Its code, row by row, without comments and room.</summary>
    public List<string> Code => code.Value.Lines;

    /// <summary>The row, from 0, of each line of <see cref="Code"/>.</summary>
    public List<int> CodeRows => code.Value.Rows;

    public int FirstPage => Lines[0].Page;

    public int LastPage => Lines[^1].Page;

    public ListingNames Names => names.Value;

    /// <summary>The chip that it names, or null.</summary>
    public string? Chip => chip.Value;

    /// <summary>The names that it uses and that neither it nor its chip defines.</summary>
    public List<string> Lacking => lacking.Value;

    /// <summary>The same listing where the document prints it again.</summary>
    public List<Listing> Copies { get; } = [];

    /// <summary>The name of the file that it is, where programs of the document include it; null for a program or a piece of one.</summary>
    public string? FileName { get; init; }

    /// <summary>Whether it is a program from its head to its end, and no piece of one.</summary>
    public bool IsWhole => FileName is null && Names.HasHead && (Names.HasEnd || ContinuesPastEnd);

    /// <summary>Whether a part of it that is not the last one closes with <c>end</c>.</summary>
    public bool ContinuesPastEnd { get; private init; }

    /// <summary>The listing with another part of it, which is printed further down.</summary>
    public Listing With(Listing part) =>
        new([.. Lines, .. part.Lines], [.. Texts, .. part.Texts], CodeLines + part.CodeLines)
        {
            FileName = FileName,
            ContinuesPastEnd = ContinuesPastEnd || Names.HasEnd,
        };
}
