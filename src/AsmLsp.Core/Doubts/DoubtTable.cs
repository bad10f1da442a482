using System.Collections.Immutable;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Doubts;

/// <summary>
/// The doubts of a text that is being recovered, by line, beside the lines. Their marks are written once, at the end
/// (<see cref="Render"/>). Immutable.
/// </summary>
public sealed class DoubtTable
{
    private readonly ImmutableSortedDictionary<int, ImmutableArray<Doubt>> byLine;

    private DoubtTable(ImmutableSortedDictionary<int, ImmutableArray<Doubt>> byLine) => this.byLine = byLine;

    /// <summary>No doubts.</summary>
    public static DoubtTable Empty { get; } = new(ImmutableSortedDictionary<int, ImmutableArray<Doubt>>.Empty);

    /// <summary>The lines that have doubts, in order.</summary>
    public IEnumerable<int> Lines => byLine.Keys;

    /// <summary>Whether there is no doubt.</summary>
    public bool IsEmpty => byLine.IsEmpty;

    /// <summary>The doubts of a line, in the order in which they came.</summary>
    public ImmutableArray<Doubt> At(int line) =>
        byLine.TryGetValue(line, out ImmutableArray<Doubt> doubts) ? doubts : [];

    /// <summary>The doubts of the marks that a text has.</summary>
    public static DoubtTable Of(SourceText text)
    {
        ArgumentNullException.ThrowIfNull(text);
        DoubtTable table = Empty;
        int number = 0;
        foreach (TextLine line in text.Lines)
        {
            if (line.Text.Contains(DoubtMark.Sign, StringComparison.Ordinal) && DoubtMark.Read(line.Text) is { } doubt)
                table = table.With(number, doubt);
            number++;
        }

        return table;
    }

    /// <summary>
    /// The table with one more doubt. What a line has already is not said twice, and a doubt that says nothing in particular
    /// gives way to any other.
    /// </summary>
    public DoubtTable With(int line, Doubt doubt)
    {
        ArgumentNullException.ThrowIfNull(doubt);
        ImmutableArray<Doubt> known = At(line);
        if (known.Any(d => d.Words == doubt.Words && d.Alternatives.SequenceEqual(doubt.Alternatives)))
            return this;
        if (doubt.Kind == DoubtKind.PictureInGeneral && !known.IsEmpty)
            return this;
        return new DoubtTable(
            byLine.SetItem(line, known.RemoveAll(static d => d.Kind == DoubtKind.PictureInGeneral).Add(doubt))
        );
    }

    /// <summary>The table with those doubts only that are wanted.</summary>
    public DoubtTable Where(Func<int, Doubt, bool> wanted)
    {
        ArgumentNullException.ThrowIfNull(wanted);
        return new DoubtTable(
            byLine
                .Select(p => (p.Key, Value: p.Value.RemoveAll(d => !wanted(p.Key, d))))
                .Where(static p => !p.Value.IsEmpty)
                .ToImmutableSortedDictionary(static p => p.Key, static p => p.Value)
        );
    }

    /// <summary>The table with the doubts of a line changed.</summary>
    public DoubtTable Select(Func<int, Doubt, Doubt> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return new DoubtTable(
            byLine.ToImmutableSortedDictionary(
                static p => p.Key,
                p => ImmutableArray.CreateRange(p.Value, d => change(p.Key, d))
            )
        );
    }

    /// <summary>The table after edits that moved the lines.</summary>
    /// <param name="lines">For every line before, the line where its end came to be.</param>
    public DoubtTable Moved(int[] lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        DoubtTable moved = Empty;
        foreach ((int line, ImmutableArray<Doubt> doubts) in byLine)
        foreach (Doubt doubt in doubts)
            moved = moved.With(line < lines.Length ? lines[line] : line, doubt);
        return moved;
    }

    /// <summary>The edits that write the mark of every doubt into a text.</summary>
    public ImmutableArray<TextEdit> Render(SourceText text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var edits = ImmutableArray.CreateBuilder<TextEdit>();
        foreach ((int line, ImmutableArray<Doubt> doubts) in byLine)
        {
            string before = text[line].Text,
                after = DoubtMark.Render(before, Doubt.Merge(doubts));
            if (after != before)
                edits.Add(new TextEdit(new TextSpan(text.LineStart(line), before.Length), after));
        }

        return edits.ToImmutable();
    }
}
