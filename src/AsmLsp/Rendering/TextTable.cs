using AsmLsp.Core.Text;
using Spectre.Console;

namespace AsmLsp.Rendering;

/// <summary>A table: laid out for the width of a terminal, and in plain columns where another program or a file takes it.</summary>
internal static class TextTable
{
    private const string Gap = "  ";

    /// <summary>Writes a table.</summary>
    /// <param name="output">Where it goes.</param>
    /// <param name="head">The heads of the columns; empty for none. A head that begins with '&gt;' aligns its column to the right.</param>
    /// <param name="rows">The rows, each as long as the head.</param>
    /// <param name="indent">Blanks before each row.</param>
    public static void Write(TextWriter output, string[] head, IReadOnlyCollection<string[]> rows, string indent = "")
    {
        if (rows.Count == 0)
            return;
        if (output is VisibleWriter { IsScreen: true } screen)
            OnScreen(screen, head, rows, indent);
        else
            Plain(output, head, rows, indent);
    }

    private static void Plain(TextWriter output, string[] head, IReadOnlyCollection<string[]> rows, string indent)
    {
        string[] names = [.. head.Select(static h => h.TrimStart('>'))];
        int columns = rows.First().Length;
        int[] widths =
        [
            .. Enumerable
                .Range(0, columns)
                .Select(i => Math.Max(names.ElementAtOrDefault(i)?.Length ?? 0, rows.Max(row => row[i].Length))),
        ];
        if (names.Length > 0)
            Row(names);
        foreach (string[] row in rows)
            Row(row);

        void Row(string[] cells) =>
            output.WriteLine(
                (
                    indent
                    + string.Join(
                        Gap,
                        cells.Select(
                            (cell, i) =>
                                head.Length > 0 && head[i].StartsWith('>')
                                    ? cell.PadLeft(widths[i])
                                    : cell.PadRight(widths[i])
                        )
                    )
                ).TrimEnd()
            );
    }

    private static void OnScreen(VisibleWriter screen, string[] head, IReadOnlyCollection<string[]> rows, string indent)
    {
        var table = new Table { Border = TableBorder.None, ShowHeaders = head.Length > 0 };
        for (int i = 0; i < rows.First().Length; i++)
        {
            string name = head.Length > 0 ? head[i] : "";
            var column = new TableColumn(
                new Markup(Markup.Escape(name.TrimStart('>')), new Style(decoration: Decoration.Bold))
            );
            column.Padding(i == 0 ? indent.Length : 0, Gap.Length);
            if (name.StartsWith('>'))
                column.RightAligned();
            table.AddColumn(column);
        }

        foreach (string[] row in rows)
            table.AddRow(row.Select(static cell => new Text(VisibleText.Of(cell))));
        IAnsiConsole console = AnsiConsole.Create(
            new AnsiConsoleSettings
            {
                Ansi = screen.HasColor ? AnsiSupport.Yes : AnsiSupport.No,
                ColorSystem = screen.HasColor ? ColorSystemSupport.Standard : ColorSystemSupport.NoColors,
                Interactive = InteractionSupport.No,
                Out = new AnsiConsoleOutput(screen.Raw),
            }
        );
        console.Profile.Width = ScreenWidth();
        console.Write(table);
    }

    private static int ScreenWidth()
    {
        try
        {
            return Console.WindowWidth is > 20 and var width ? width : 80;
        }
        catch (IOException)
        {
            return 80;
        }
    }
}
