using System.Text;

namespace AsmLsp.Core.Explain;

/// <summary>Writes the Markdown of an explanation; text from outside is escaped, names and code are in code marks.</summary>
public sealed class MarkdownText
{
    private readonly StringBuilder text = new();
    private bool afterList;

    /// <summary>A paragraph.</summary>
    public MarkdownText Paragraph(string markdown)
    {
        if (text.Length > 0)
            text.Append('\n');
        text.Append(markdown).Append('\n');
        afterList = false;
        return this;
    }

    /// <summary>An entry of a list.</summary>
    public MarkdownText Bullet(string markdown)
    {
        if (text.Length > 0 && !afterList)
            text.Append('\n');
        text.Append("- ").Append(markdown).Append('\n');
        afterList = true;
        return this;
    }

    /// <summary>A table; the cells are Markdown.</summary>
    public MarkdownText Table(string[] head, IEnumerable<string[]> rows)
    {
        if (text.Length > 0)
            text.Append('\n');
        Row(head);
        text.Append('|');
        foreach (string _ in head)
            text.Append("---|");
        text.Append('\n');
        foreach (string[] row in rows)
            Row(row);
        afterList = false;
        return this;
    }

    /// <summary>Lines of source.</summary>
    public MarkdownText Source(IEnumerable<string> lines)
    {
        if (text.Length > 0)
            text.Append('\n');
        string[] all = [.. lines];
        // Longer than any such marks in the source, which would end the block and let its text be Markdown (CommonMark 0.31, section 4.5).
        string fence = new('`', Math.Max(3, 1 + all.Select(LongestRun).DefaultIfEmpty(0).Max()));
        text.Append(fence).Append("asm\n");
        foreach (string line in all)
            text.Append(line).Append('\n');
        text.Append(fence).Append('\n');
        afterList = false;
        return this;
    }

    /// <inheritdoc/>
    public override string ToString() => text.ToString().TrimEnd('\n');

    /// <summary>A name, a number or a line in code marks.</summary>
    public static string Code(string code)
    {
        if (code.Length == 0)
            return "";
        string shown = code.Replace('\t', ' ');
        if (LongestRun(shown) is not (> 0 and var run))
            return $"`{shown}`";
        string marks = new('`', run + 1);
        return $"{marks} {shown} {marks}";
    }

    /// <summary>Plain text, with the characters escaped that Markdown would take for marks.</summary>
    public static string Escape(string plain)
    {
        StringBuilder? escaped = null;
        for (int i = 0; i < plain.Length; i++)
        {
            if (plain[i] is '*' or '_' or '`' or '<' or '[' or ']' or '|' or '\\' or '~')
            {
                escaped ??= new StringBuilder(plain, 0, i, plain.Length + 8);
                escaped.Append('\\');
            }

            escaped?.Append(plain[i]);
        }

        return escaped?.ToString() ?? plain;
    }

    /// <summary>The text with a capital first letter.</summary>
    public static string Capital(string plain) =>
        plain.Length == 0 ? plain : char.ToUpperInvariant(plain[0]) + plain[1..];

    private static int LongestRun(string code)
    {
        int longest = 0,
            run = 0;
        foreach (char c in code)
            longest = Math.Max(longest, run = c == '`' ? run + 1 : 0);
        return longest;
    }

    private void Row(string[] cells)
    {
        text.Append('|');
        foreach (string cell in cells)
            text.Append(' ').Append(cell).Append(" |");
        text.Append('\n');
    }
}
