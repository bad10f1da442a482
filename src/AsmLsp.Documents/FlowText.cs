using System.Text;

namespace AsmLsp.Documents;

/// <summary>
/// The text of a document that has no pages of its own, line by line: a paragraph is a line, a cell of a table keeps the
/// place in its row, a page break that the author made is a form feed.
/// </summary>
internal sealed class FlowText(int mostCharacters)
{
    // Two blanks distinguish a cell from the words of the one before it.
    private const string BetweenCells = "  ";

    private readonly StringBuilder text = new();

    /// <summary>Whether the document holds more text than any listing has.</summary>
    public bool IsTooLong => text.Length > mostCharacters;

    /// <summary>Adds characters to the line.</summary>
    public void Append(string characters)
    {
        if (!IsTooLong)
            text.Append(characters);
    }

    /// <summary>Ends the line.</summary>
    public void EndLine() => Append("\n");

    /// <summary>Ends the line where it has text.</summary>
    public void EndParagraph()
    {
        if (text.Length > 0 && text[^1] != '\n')
            EndLine();
    }

    /// <summary>Begins a new page.</summary>
    public void EndPage() => Append("\f");

    /// <summary>
    /// Adds a row of a table. Cells of as many lines as each other lie side by side, as where line numbers have a cell of
    /// their own; other cells of several lines come one after the other.
    /// </summary>
    public void AddRow(IReadOnlyList<string> cells)
    {
        string[][] lines = [.. cells.Select(static c => c.TrimEnd('\n').Split('\n'))];
        EndParagraph();
        int tallest = lines.Length == 0 ? 0 : lines.Max(static c => c.Length);
        bool areBeside = lines.All(c => c.Length == tallest || c is [""]);
        if (!areBeside)
        {
            foreach (string[] cell in lines)
            foreach (string line in cell)
                Append(line + "\n");
            return;
        }

        for (int i = 0; i < tallest; i++)
        {
            IEnumerable<string> row = lines.Select(c => i < c.Length ? c[i] : "");
            Append(string.Join(BetweenCells, row).TrimEnd() + "\n");
        }
    }

    /// <summary>The text; each line ends with LF.</summary>
    public override string ToString()
    {
        EndParagraph();
        return text.ToString();
    }
}
