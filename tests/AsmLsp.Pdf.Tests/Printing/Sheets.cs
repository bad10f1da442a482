using System.Collections.Immutable;
using System.Text;
using AsmLsp.Core.Repairs;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>A program as it lies on paper: per page the text columns, and in them the lines.</summary>
/// <param name="Pages">Page, column, line.</param>
/// <param name="Headers">The line above each page, or empty.</param>
/// <param name="Footers">The line below each page, or empty.</param>
/// <param name="IsProportional">Whether it is set in a proportional font.</param>
public sealed record Sheets(
    ImmutableArray<ImmutableArray<ImmutableArray<string>>> Pages,
    ImmutableArray<string> Headers,
    ImmutableArray<string> Footers,
    bool IsProportional
)
{
    /// <summary>The most columns of a line.</summary>
    public int Width => Pages.Max(page => page.Max(column => column.Max(line => line.Length)));

    /// <summary>All lines in reading order, headers and footers included.</summary>
    public IEnumerable<string> Lines
    {
        get
        {
            for (int i = 0; i < Pages.Length; i++)
            {
                if (Headers[i].Length > 0)
                    yield return Headers[i];
                foreach (ImmutableArray<string> column in Pages[i])
                foreach (string line in column)
                    yield return line;
                if (Footers[i].Length > 0)
                    yield return Footers[i];
            }
        }
    }

    /// <summary>The text as a viewer gives it when all pages are copied.</summary>
    public string Pasted() => string.Concat(Lines.Select(line => line + "\n"));

    /// <summary>The page of each line of <see cref="Pasted"/>, from 1.</summary>
    public ImmutableArray<int> PagesOfLines()
    {
        ImmutableArray<int>.Builder pages = ImmutableArray.CreateBuilder<int>();
        for (int i = 0; i < Pages.Length; i++)
        {
            int lines =
                Pages[i].Sum(column => column.Length)
                + (Headers[i].Length > 0 ? 1 : 0)
                + (Footers[i].Length > 0 ? 1 : 0);
            for (int n = 0; n < lines; n++)
                pages.Add(i + 1);
        }

        return pages.ToImmutable();
    }

    /// <summary>Lays a program on paper with the given damage.</summary>
    /// <param name="source">The program; lines by LF or CRLF.</param>
    /// <param name="damage">What happens to it.</param>
    /// <param name="wordOf">The address and word that a line (from 0) makes first, for the gutter; null where it makes none.</param>
    public static Sheets Of(string source, DamageKind damage, Func<int, (int Address, int Word)?>? wordOf = null)
    {
        string[] all = source.ReplaceLineEndings("\n").TrimEnd('\n').Split('\n');
        int width = damage.HasFlag(DamageKind.TwoColumns) ? 50 : 66;
        var lines = new List<string>();
        for (int i = 0; i < all.Length; i++)
        {
            string line = LineDamage.WithoutTabs(all[i]);
            if (damage.HasFlag(DamageKind.RaggedColumns))
                line = LineDamage.Ragged(line, i);
            if (damage.HasFlag(DamageKind.TypographicCharacters))
                line = LineDamage.Typographic(line);
            if (damage.HasFlag(DamageKind.AddressesAndWords))
                line =
                    (wordOf?.Invoke(i) is { } made ? $"{made.Address:X4} {made.Word:X4}   " : new string(' ', 12))
                    + line;
            if (damage.HasFlag(DamageKind.LineNumbers))
                line = $"{i + 1, 4}  " + line;
            IEnumerable<string> pieces =
                damage.HasFlag(DamageKind.WrappedLines)
                || damage.HasFlag(DamageKind.Hyphenation)
                || damage.HasFlag(DamageKind.TwoColumns)
                    ? LineDamage.Wrapped(line.TrimEnd(), width, damage.HasFlag(DamageKind.Hyphenation))
                    : [line.TrimEnd()];
            foreach (string piece in pieces)
            {
                string put = damage.HasFlag(DamageKind.WholeIndented) && piece.Length > 0 ? "    " + piece : piece;
                if (damage.HasFlag(DamageKind.LostBlanks))
                    put = LineDamage.LostBlanks(put);
                if (damage.HasFlag(DamageKind.NoBreakBlanks))
                    put = put.Replace(' ', '\u00A0');
                lines.Add(put);
            }
        }

        return Paginate(lines, damage);
    }

    private static Sheets Paginate(List<string> lines, DamageKind damage)
    {
        int height = damage.HasFlag(DamageKind.ShortPages) ? 24 : 56;
        int columns = damage.HasFlag(DamageKind.TwoColumns) ? 2 : 1;
        ImmutableArray<string>[] parts = [.. lines.Chunk(height).Select(part => part.ToImmutableArray())];
        ImmutableArray<ImmutableArray<ImmutableArray<string>>> pages =
        [
            .. parts.Chunk(columns).Select(page => page.ToImmutableArray()),
        ];
        bool furnished = damage.HasFlag(DamageKind.HeadersAndFooters);
        return new Sheets(
            pages,
            [.. pages.Select(_ => furnished ? "Branch Line Electronics - control program" : "")],
            [.. pages.Select((_, i) => furnished ? $"Page {i + 1} of {pages.Length}" : "")],
            damage.HasFlag(DamageKind.ProportionalFont)
        );
    }
}
