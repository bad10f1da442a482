using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;

namespace AsmLsp.Core.Tests.Recovery.Gutter;

/// <summary>One row of a listing as it is to be printed.</summary>
/// <param name="Number">The number of the source line, from 1.</param>
/// <param name="Address">The address of its first word, or -1.</param>
/// <param name="Words">Its words.</param>
/// <param name="Text">The source line.</param>
internal sealed record SourceRow(int Number, int Address, int[] Words, string Text);

/// <summary>
/// Prints programs as listings with numbers in front of their lines. It knows nothing of how they are read: a form is a function from a source line
/// to its printed rows, and the words are those that assembling gives.
/// </summary>
internal static class GutterPrinter
{
    private const int RowsOnPage = 54;

    /// <summary>The source lines with their words, up to the end of the program.</summary>
    public static List<SourceRow> Rows(ProgramAnalysis program)
    {
        var words = new Dictionary<int, (int Address, List<int> Words)>();
        foreach ((int address, ushort word, WordOrigin origin) in program.Image.Words)
        {
            if (origin.Outermost.File.Name != program.Root.Name)
                continue;
            if (!words.TryGetValue(origin.Outermost.Line, out (int Address, List<int> Words) known))
                words.Add(origin.Outermost.Line, known = (address, []));
            known.Words.Add(word);
        }

        var rows = new List<SourceRow>();
        for (int i = 0; i < program.Root.Text.LineCount; i++)
        {
            string text = Expand(program.Root.Text[i].Text.TrimEnd());
            rows.Add(
                words.TryGetValue(i, out (int Address, List<int> Words) made)
                    ? new SourceRow(i + 1, made.Address, [.. made.Words], text)
                    : new SourceRow(i + 1, -1, [], text)
            );
            if (text.Trim().Equals("end", StringComparison.OrdinalIgnoreCase))
                break;
        }

        return rows;
    }

    /// <summary>The printed rows, on pages with heads and feet.</summary>
    public static string[] Pages(IEnumerable<string> rows, string title)
    {
        string[] all = [.. rows];
        var pages = new List<string>();
        for (int i = 0; i < all.Length; i += RowsOnPage)
        {
            var page = new StringBuilder();
            page.Append(CultureInfo.InvariantCulture, $"{title}        Page {pages.Count + 1}\n\n");
            foreach (string row in all.Skip(i).Take(RowsOnPage))
                page.Append(row.TrimEnd()).Append('\n');
            page.Append("\n\nprinted for the workshop");
            pages.Add(page.ToString());
        }

        return [.. pages];
    }

    private static string Expand(string text)
    {
        var expanded = new StringBuilder();
        foreach (char c in text)
        {
            if (c != '\t')
                expanded.Append(c);
            else
                do expanded.Append(' ');
                while (expanded.Length % 8 != 0);
        }

        return expanded.ToString();
    }
}
