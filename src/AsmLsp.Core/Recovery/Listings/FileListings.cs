using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Parts the files that programs of a document include, and that the document prints by themselves, from the listings beside them: a row above each
/// names the file.
/// </summary>
internal sealed class FileListings
{
    // So many rows of other text may be between the row that names a file and the file.
    private const int MostAbove = 4;

    // So many rows of other text end a file; fewer do where instructions follow definitions.
    private const int LinesBetween = 8;
    private const int LinesBeforeCode = 3;

    // So many words are a sentence.
    private const int LeastWords = 4;

    // The number of no file: the row is a heading.
    private const int Heading = -2;

    private readonly ListingFinder finder;
    private readonly List<Listing> listings;
    private readonly Dictionary<PrintedLine, int> places = new(ReferenceEqualityComparer.Instance);

    // Of each line the listing that it is of, the number of the file that it is of, and whether it is code; -1 for none.
    private readonly int[] owners;
    private readonly int[] files;
    private readonly bool[] isCode;
    private readonly List<string> names = [];

    private FileListings(List<Listing> listings, ListingFinder finder)
    {
        (this.listings, this.finder) = (listings, finder);
        int count = finder.Lines.Count;
        (owners, files, isCode) = (new int[count], new int[count], new bool[count]);
        Array.Fill(owners, -1);
        Array.Fill(files, -1);
        for (int i = 0; i < count; i++)
            places[finder.Lines[i]] = i;
        for (int i = 0; i < listings.Count; i++)
            foreach (PrintedLine line in listings[i].Lines)
                owners[places[line]] = i;
    }

    /// <summary>The listings, with the printed files among them as listings of their own.</summary>
    public static List<Listing> Part(List<Listing> listings, ListingFinder finder)
    {
        var included = new HashSet<string>(
            listings.SelectMany(static l => l.Names.Included),
            StringComparer.OrdinalIgnoreCase
        );
        if (included.Count == 0)
            return listings;
        List<FileHeading> headings = FileHeadings.Find(finder, included);
        return headings.Exists(h => included.Contains(h.Name))
            ? new FileListings(listings, finder).Part(headings, included)
            : listings;
    }

    private List<Listing> Part(List<FileHeading> headings, HashSet<string> included)
    {
        for (int i = 0; i < headings.Count; i++)
        {
            FileHeading heading = headings[i];
            // A row of text that was taken for a row of the listing is none.
            if (owners[heading.Line] >= 0 && LookOf(heading.Line) != Look.Comment)
                (owners[heading.Line], files[heading.Line]) = (-1, Heading);
            if (!included.TryGetValue(heading.Name, out string? name) || files[heading.Line] >= 0)
                continue;
            int limit = i + 1;
            while (limit < headings.Count && headings[limit].Name.Equals(name, StringComparison.OrdinalIgnoreCase))
                limit++;
            List<int> rows = RowsOf(heading, name, limit < headings.Count ? headings[limit].Line : finder.Lines.Count);
            if (!rows.Exists(r => isCode[r]))
                continue;
            foreach (int row in rows)
                files[row] = names.Count;
            names.Add(name);
        }

        return names.Count == 0 ? listings : Parted();
    }

    // The rows of the file below a heading; none where something else is printed there.
    private List<int> RowsOf(FileHeading heading, string name, int limit)
    {
        var rows = new List<int>();
        int owner = owners[heading.Line],
            other = 0;
        bool hasInstruction = false;
        // A comment that names the file is of the file, and so are those right above it where they are of nothing else.
        if (owner >= 0 || LookOf(heading.Line) == Look.Comment)
        {
            int first = heading.Line;
            while (owner < 0 && first > 0 && owners[first - 1] < 0 && LookOf(first - 1) == Look.Comment)
                first--;
            for (int i = first; i <= heading.Line; i++)
                if (!finder.IsHeaderOrFooter(finder.Lines[i]))
                    rows.Add(i);
        }

        int macros = 0;
        for (int i = heading.Line + 1; i < limit; i++)
        {
            if (finder.IsHeaderOrFooter(finder.Lines[i]))
                continue;
            string text = finder.Gutter.TextOf(finder.Lines[i]);
            Look look = AssemblyLook.Of(text);
            bool isRow = owners[i] >= 0 && (owner < 0 || owners[i] == owner);
            // Of a file with few lines there is no listing.
            if (!isRow && owners[i] < 0 && owner < 0 && look is Look.Code or Look.Comment)
                isRow = true;
            if (!isRow)
            {
                if (owners[i] >= 0)
                    break;
                other++;
                if (other > (rows.Count == 0 ? MostAbove : LinesBetween))
                    break;
                continue;
            }

            LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(text));
            // No file includes itself: what begins here is a program that does.
            if (
                syntax.Keyword == Keyword.Include
                && FileNames.LastPart(syntax.OperandText).Equals(name, StringComparison.OrdinalIgnoreCase)
            )
                return BeforeHead(rows);
            macros += syntax.Keyword switch
            {
                Keyword.Macro => 1,
                Keyword.EndMacro => -1,
                _ => 0,
            };
            bool isInstruction = macros <= 0 && syntax.OperationKind == OperationKind.Instruction;
            if (rows.Count > 0 && other >= LinesBeforeCode && isInstruction && !hasInstruction)
                break;
            hasInstruction |= isInstruction;
            if (owner < 0 && owners[i] >= 0)
                owner = owners[i];
            other = 0;
            isCode[i] = look == Look.Code;
            rows.Add(i);
            if (AssemblyLook.IsEnd(text))
                break;
        }

        // Sentences below a file are none of it.
        while (rows.Count > 0 && IsSentence(rows[^1]))
            rows.RemoveAt(rows.Count - 1);
        return rows;
    }

    private bool IsSentence(int line) =>
        LookOf(line) == Look.Other
        && finder.Gutter.TextOf(finder.Lines[line]).Split(' ', StringSplitOptions.RemoveEmptyEntries).Length
            >= LeastWords;

    private Look LookOf(int line) => AssemblyLook.Of(finder.Gutter.TextOf(finder.Lines[line]));

    // The rows up to the program that is printed right below the file: its head begins it, or the text between the two parts them.
    private List<int> BeforeHead(List<int> rows)
    {
        int code = -1;
        for (int i = 0; i < rows.Count; i++)
        {
            string text = finder.Gutter.TextOf(finder.Lines[rows[i]]);
            if (!isCode[rows[i]])
                continue;
            if (code >= 0 && AssemblyLook.IsHead(text))
                return rows[..(code + 1)];
            code = i;
        }

        return [];
    }

    private List<Listing> Parted()
    {
        var result = new List<(int First, Listing Listing)>();
        for (int f = 0; f < names.Count; f++)
        {
            List<int> rows = [.. Enumerable.Range(0, files.Length).Where(i => files[i] == f)];
            Listing file = Make(rows, names[f]);
            // What is printed further down under the same name, and gives no name a second meaning, continues the file.
            int before = result.FindIndex(r =>
                names[f].Equals(r.Listing.FileName, StringComparison.OrdinalIgnoreCase)
                && !r.Listing.Names.Overlaps(file.Names)
            );
            if (before < 0)
                result.Add((rows[0], file));
            else
                result[before] = (result[before].First, result[before].Listing.With(file));
        }

        for (int l = 0; l < listings.Count; l++)
        {
            List<int> rows = [.. listings[l].Lines.Select(r => places[r])];
            if (rows.TrueForAll(r => files[r] == -1))
            {
                result.Add((rows[0], listings[l]));
                continue;
            }

            foreach (List<int> part in PartsOf(rows))
            {
                Listing rest = Make(part, null);
                if (rest.CodeLines > 0)
                    result.Add((part[0], rest));
            }
        }

        return [.. result.OrderBy(static r => r.First).Select(static r => r.Listing)];
    }

    // What is left of a listing above and below a file: two programs where both have a head.
    private List<List<int>> PartsOf(List<int> rows)
    {
        var parts = new List<List<int>>();
        bool isParted = true;
        foreach (int row in rows)
        {
            if (files[row] != -1)
            {
                isParted = true;
                continue;
            }

            if (isParted)
                parts.Add([]);
            isParted = false;
            parts[^1].Add(row);
        }

        for (int i = 1; i < parts.Count; i++)
        {
            if (HasHead(parts[i]))
                continue;
            parts[i - 1].AddRange(parts[i]);
            parts.RemoveAt(i--);
        }

        return parts;
    }

    private bool HasHead(List<int> rows) =>
        rows.Exists(r => AssemblyLook.IsHead(finder.Gutter.TextOf(finder.Lines[r])));

    private Listing Make(List<int> rows, string? name)
    {
        string[] texts = [.. rows.Select(r => finder.Gutter.TextOf(finder.Lines[r]))];
        return new Listing(
            [.. rows.Select(r => finder.Lines[r])],
            [.. texts],
            texts.Count(static t => AssemblyLook.Of(t) == Look.Code)
        )
        {
            FileName = name,
        };
    }
}
