using AsmLsp.Core.Text;
using Spectre.Console;

namespace AsmLsp.Rendering;

/// <summary>Tables and paragraphs: laid out for the width of a terminal, and plain where another program or a file takes them.</summary>
internal static class TextTable
{
    private const string Gap = "  ";

    /// <summary>Writes a table.</summary>
    /// <param name="output">Where it goes.</param>
    /// <param name="head">The heads of the columns; empty, or empty ones, for none. A head that begins with '&gt;' aligns its column to the right.</param>
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
        if (names.Any(static n => n.Length > 0))
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
        var table = new Table
        {
            Border = TableBorder.None,
            ShowHeaders = head.Any(static h => h.TrimStart('>').Length > 0),
        };
        // Gaps are columns of their own: padding is the first thing that a narrow terminal takes away.
        if (indent.Length > 0)
            table.AddColumn(Column(indent).NoWrap());
        for (int i = 0; i < rows.First().Length; i++)
        {
            if (i > 0)
                table.AddColumn(Column(Gap).NoWrap());
            string name = head.Length > 0 ? head[i] : "";
            TableColumn column = Column(name.TrimStart('>'));
            if (name.StartsWith('>'))
                column.RightAligned().NoWrap();
            table.AddColumn(column);
        }

        foreach (string[] row in rows)
            table.AddRow(
                row.SelectMany(
                        (cell, i) => i == 0 && indent.Length == 0 ? [cell] : new[] { i == 0 ? indent : Gap, cell }
                    )
                    .Select(static cell => new Text(VisibleText.Of(cell)))
            );
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

    private static TableColumn Column(string name) =>
        new TableColumn(new Text(name, new Style(decoration: Decoration.Bold))).Padding(0, 0);

    /// <summary>Writes a paragraph: broken between words on a terminal, in one line where another program or a file takes it.</summary>
    /// <param name="output">Where it goes.</param>
    /// <param name="start">What is in front of its first line, such as the sign of a list; its others begin below the text.</param>
    /// <param name="text">The text.</param>
    public static void Paragraph(TextWriter output, string start, string text)
    {
        int width = output is VisibleWriter { IsScreen: true } ? ScreenWidth() : int.MaxValue;
        while (start.Length + text.Length > width && text.LastIndexOf(' ', width - start.Length) is > 0 and int at)
        {
            output.WriteLine(start + text[..at]);
            (start, text) = (new string(' ', start.Length), text[(at + 1)..]);
        }

        output.WriteLine(start + text);
    }

    /// <summary>The width that lines may have: that of the terminal, or a usual one.</summary>
    public static int WidthOf(TextWriter output, int usual) =>
        output is VisibleWriter { IsScreen: true } ? Math.Min(ScreenWidth(), usual) : usual;

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
