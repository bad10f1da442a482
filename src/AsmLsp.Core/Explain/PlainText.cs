using System.Text;

namespace AsmLsp.Core.Explain;

/// <summary>Takes the marks out of the Markdown that explanations are written in, and sets tables in columns.</summary>
public static class PlainText
{
    /// <summary>The text without its marks.</summary>
    public static string Of(string markdown)
    {
        var text = new StringBuilder(markdown.Length);
        var table = new List<string[]>();
        bool inCode = false;
        string fence = "";
        foreach (string line in markdown.Split('\n'))
        {
            if (!inCode && line.StartsWith("```", StringComparison.Ordinal))
            {
                inCode = true;
                fence = line[..^line.TrimStart('`').Length];
                continue;
            }

            if (inCode && line == fence)
            {
                inCode = false;
                continue;
            }

            if (!inCode && line.StartsWith('|'))
            {
                if (!line.StartsWith("|---", StringComparison.Ordinal))
                    table.Add(CellsOf(line));
                continue;
            }

            Flush(table, text);
            text.Append(inCode ? "    " + line : Inline(line)).Append('\n');
        }

        Flush(table, text);
        return text.ToString().TrimEnd('\n');
    }

    /// <summary>The cells of a row of a table, without their marks.</summary>
    public static string[] CellsOf(string row)
    {
        ArgumentNullException.ThrowIfNull(row);
        var cells = new List<string>();
        int start = 1;
        for (int i = 1; i < row.Length; i++)
        {
            if (row[i] != '|' || row[i - 1] == '\\')
                continue;
            cells.Add(Inline(row[start..i].Trim()));
            start = i + 1;
        }

        return [.. cells];
    }

    private static void Flush(List<string[]> table, StringBuilder text)
    {
        if (table.Count == 0)
            return;
        int columns = table.Max(r => r.Length);
        var widths = new int[columns];
        foreach (string[] row in table)
            for (int i = 0; i < row.Length; i++)
                widths[i] = Math.Max(widths[i], row[i].Length);
        foreach (string[] row in table)
        {
            var line = new StringBuilder("  ");
            for (int i = 0; i < row.Length; i++)
                line.Append(row[i].PadRight(widths[i])).Append("  ");
            text.Append(line.ToString().TrimEnd()).Append('\n');
        }

        table.Clear();
    }

    private static string Inline(string line)
    {
        var text = new StringBuilder(line.Length);
        for (int i = 0; i < line.Length; i++)
        {
            char c = line[i];
            if (c == '`')
            {
                int ticks = 1;
                while (i + ticks < line.Length && line[i + ticks] == '`')
                    ticks++;
                string fence = new('`', ticks);
                int close = line.IndexOf(fence, i + ticks, StringComparison.Ordinal);
                if (close > 0)
                {
                    text.Append(ticks > 1 ? line[(i + ticks)..close].Trim(' ') : line[(i + ticks)..close]);
                    i = close + ticks - 1;
                    continue;
                }
            }

            if (c == '*' && i + 1 < line.Length && line[i + 1] == '*')
            {
                i++;
                continue;
            }

            if (c == '\\' && i + 1 < line.Length && char.IsPunctuation(line[i + 1]) | char.IsSymbol(line[i + 1]))
                c = line[++i];
            text.Append(c);
        }

        return text.ToString();
    }
}
