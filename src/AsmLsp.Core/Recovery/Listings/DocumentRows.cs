using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>All rows of a document in reading order, with what is known of each by itself: its text, its typeface, what it looks like.</summary>
internal sealed class DocumentRows
{
    private readonly List<PrintedLine> lines = [];
    private readonly List<string> texts = [];
    private readonly List<Typeface> typefaces = [];
    private readonly List<bool> headersAndFooters = [];

    public DocumentRows(IReadOnlyList<PrintedPage> pages)
    {
        Gutter = DocumentGutter.Find(pages);
        HashSet<PrintedLine> found = HeadersAndFooters.Find(pages, Gutter);
        foreach (PrintedPage page in pages)
        {
            foreach (PrintedLine line in page.Lines)
            {
                lines.Add(line);
                texts.Add(Gutter.TextOf(line));
                typefaces.Add(Typeface.Of(line));
                headersAndFooters.Add(found.Contains(line));
            }
        }

        Looks = RowLooks.Of(this);
    }

    /// <summary>The numbers in front of the rows.</summary>
    public DocumentGutter Gutter { get; }

    public int Count => lines.Count;

    /// <summary>The printed lines.</summary>
    public IReadOnlyList<PrintedLine> Lines => lines;

    /// <summary>Their texts without the numbers in front of them.</summary>
    public IReadOnlyList<string> Texts => texts;

    /// <summary>What each looks like.</summary>
    public Look[] Looks { get; }

    /// <summary>Whether a row is page header or footer.</summary>
    public bool IsHeaderOrFooter(int row) => headersAndFooters[row];

    public Typeface TypefaceOf(int row) => typefaces[row];

    public int IndexOf(PrintedLine line) => lines.IndexOf(line);

    /// <summary>Where the operation of a row of code starts on paper.</summary>
    public double OperationX(int row)
    {
        PrintedLine printed = lines[row];
        int column = AssemblyLook.OperationColumn(printed.Text);
        return column >= 0 && column < printed.CharacterStarts.Length ? printed.CharacterStarts[column] : printed.X;
    }

    /// <summary>The first words of a text, numbers in front left out.</summary>
    public static string[] Words(string text) =>
        [
            .. AssemblyLook
                .Plain(text)
                .Split((char[])[' ', '\t'], 8, StringSplitOptions.RemoveEmptyEntries)
                .SkipWhile(static w => GutterRow.IsNumber(w)),
        ];
}
