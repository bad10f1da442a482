using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;
using AsmLsp.Host.Recovering;

namespace AsmLsp.Host.Review;

/// <summary>Lays the printed lines of a document and the lines of its source side by side. Every line of both is in exactly one row, at least.</summary>
internal sealed class ReviewSheets
{
    private readonly ImmutableArray<LineOrigin> origins;
    private readonly Dictionary<PrintedPlace, List<int>> begins = [];
    private readonly Dictionary<PrintedPlace, int> goesOn = [];
    private readonly Dictionary<PrintedPlace, string> texts = [];
    private readonly HashSet<PrintedPlace> shown = [];
    private readonly bool[] emitted;
    private readonly List<ReviewSheet> sheets = [];
    private int next;

    private ReviewSheets(RecoveryResult result)
    {
        origins = result.Origins;
        emitted = new bool[result.Source.LineCount];
        for (int line = 0; line < origins.Length; line++)
        {
            ImmutableArray<PrintedPlace> places = origins[line].Places;
            if (places.IsEmpty)
                continue;
            if (!begins.TryGetValue(places[0], out List<int>? lines))
                begins[places[0]] = lines = [];
            lines.Add(line);
            foreach (PrintedPlace place in places.AsSpan()[1..])
                goesOn.TryAdd(place, line);
        }
    }

    /// <summary>The pages of a document, or the one of a paste.</summary>
    public static IReadOnlyList<ReviewSheet> Of(RecoveredDocument document)
    {
        var made = new ReviewSheets(document.Result);
        if (document.Printed is { } printed)
        {
            foreach (PrintedPage page in printed.Pages)
            foreach (PrintedLine line in page.Lines)
                made.texts.TryAdd(new PrintedPlace(line.Page, line.Number), line.Text);
            foreach (PrintedPage page in printed.Pages)
                made.Add(page);
        }
        else if (document.Pasted is { } pasted)
        {
            made.Add(pasted);
        }

        // The end of the last line is no line to show.
        int last = made.emitted.Length - 1;
        if (last > 0 && document.Result.Source[last].Text.Length == 0)
            made.emitted[last] = true;
        made.AddUpTo(int.MaxValue);
        return made.sheets;
    }

    private void Add(PrintedPage page)
    {
        string? note = page.State switch
        {
            PrintedPageState.PictureOnly => "This page shows a picture and no text.",
            PrintedPageState.Illegible => "The document does not say which letters this page shows.",
            PrintedPageState.Unreadable => "This page is damaged and could not be read.",
            _ => page.Lines.Length + page.SetAside.Length == 0 ? "This page is empty." : null,
        };
        var sheet = new ReviewSheet(page.Number, []) { Note = note };
        sheets.Add(sheet);
        foreach (PrintedLine line in page.Lines)
            Add(sheet, new PrintedPlace(line.Page, line.Number));
        foreach (PrintedLine line in page.SetAside)
            sheet.Rows.Add(new ReviewRow([new ShownPrint(new PrintedPlace(page.Number, 0), line.Text)], -1));
    }

    private void Add(SourceText pasted)
    {
        var sheet = new ReviewSheet(0, []);
        sheets.Add(sheet);
        int count = pasted.LineCount > 1 && pasted[pasted.LineCount - 1].Text.Length == 0
                ? pasted.LineCount - 1
                : pasted.LineCount,
            number = 0;
        foreach (TextLine line in pasted.Lines)
            texts.Add(new PrintedPlace(0, ++number), line.Text);
        for (int line = 1; line <= count; line++)
            Add(sheet, new PrintedPlace(0, line));
        if (count < pasted.LineCount)
            shown.Add(new PrintedPlace(0, pasted.LineCount));
    }

    private void Add(ReviewSheet sheet, PrintedPlace place)
    {
        if (shown.Contains(place))
            return;
        if (!begins.TryGetValue(place, out List<int>? lines))
        {
            shown.Add(place);
            sheet.Rows.Add(new ReviewRow([Shown(place)], -1) { JoinedTo = goesOn.GetValueOrDefault(place, -1) });
            return;
        }

        foreach (int line in lines)
        {
            AddUpTo(line);
            emitted[line] = true;
            next = Math.Max(next, line + 1);
            // The printed lines right below that were joined are in the same row.
            var printed = new List<ShownPrint>();
            foreach (PrintedPlace own in origins[line].Places)
            {
                if (own.Page != place.Page || own.Line != place.Line + printed.Count || !shown.Add(own))
                    break;
                printed.Add(Shown(own));
            }

            sheet.Rows.Add(new ReviewRow(printed, line) { IsSplit = printed.Count == 0 });
        }
    }

    // Lines that were put in are before the line that they precede.
    private void AddUpTo(int line)
    {
        if (sheets.Count == 0)
            sheets.Add(new ReviewSheet(0, []));
        for (; next < Math.Min(line, emitted.Length); next++)
            if (!emitted[next] && origins[next].IsNone)
                AddAlone(next);
        for (int i = 0; line == int.MaxValue && i < emitted.Length; i++)
            if (!emitted[i])
                AddAlone(i);
    }

    private void AddAlone(int line)
    {
        emitted[line] = true;
        sheets[^1].Rows.Add(new ReviewRow([], line));
    }

    private ShownPrint Shown(PrintedPlace place) => new(place, texts.GetValueOrDefault(place, ""));
}
