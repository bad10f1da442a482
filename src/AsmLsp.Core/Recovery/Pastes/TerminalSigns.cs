using System.Text;

namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>What terminals put between the lines: codes of colors (ECMA-48, control sequences), overstruck letters, tabs shown as signs, lines of a pager.</summary>
internal static class TerminalSigns
{
    private const char Escape = '\u001B';
    private const char Backspace = '\b';
    private const char Bell = '\a';

    private static readonly string[] PagerLines = ["--More--", "-- More --", "(END)", "lines 1-"];

    /// <summary>Takes off codes of colors and letters that were struck over.</summary>
    public static string? TakeCodes(string[] lines)
    {
        int changed = 0;
        for (int i = 0; i < lines.Length; i++)
        {
            if (lines[i].AsSpan().IndexOfAny(Escape, Backspace) < 0)
                continue;
            lines[i] = WithoutCodes(lines[i]);
            changed++;
        }

        return changed == 0 ? null : $"Codes of a terminal were taken out of {PasteCleaner.Lines(changed)}.";
    }

    private static string WithoutCodes(string line)
    {
        var text = new StringBuilder(line.Length);
        for (int at = 0; at < line.Length; at++)
        {
            if (line[at] == Backspace)
            {
                if (text.Length > 0)
                    text.Length--;
                continue;
            }

            if (line[at] != Escape)
            {
                text.Append(line[at]);
                continue;
            }

            at++;
            if (at >= line.Length)
                break;
            // A control sequence ends with its first letter or sign from '@' on; a string for the operating system, with a bell.
            if (line[at] == '[')
                do at++;
                while (at < line.Length && line[at] is < '@' or > '~');
            else if (line[at] == ']')
                while (at < line.Length && line[at] != Bell)
                    at++;
        }

        return text.ToString();
    }

    /// <summary>Makes tabs of <c>^I</c> and <c>\t</c>, and takes off the sign at each line end that is printed with them.</summary>
    public static string? ShowTabs(string[] lines)
    {
        int written = lines.Count(static l => l.Length > 0);
        int ended = lines.Count(static l => l.EndsWith('$'));
        int carets = lines.Count(static l => l.StartsWith("^I", StringComparison.Ordinal));
        int slashes = lines.Count(static l => l.StartsWith("\\t", StringComparison.Ordinal));
        bool isEnded = PasteCleaner.IsNearlyAll(ended, written);
        bool hasCarets = isEnded || (carets >= PasteCleaner.LeastLines && carets * 10 >= written);
        bool hasSlashes = slashes >= PasteCleaner.LeastLines && slashes * 10 >= written;
        if (!hasCarets && !hasSlashes)
            return null;
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i];
            if (isEnded && line.EndsWith('$'))
                line = line[..^1];
            if (hasCarets)
            {
                if (line.EndsWith("^M", StringComparison.Ordinal))
                    line = line[..^2];
                line = line.Replace("^I", "\t", StringComparison.Ordinal);
            }

            lines[i] = hasSlashes ? WithTabs(line) : line;
        }

        return "Tabs that were shown as signs became tabs again.";
    }

    // In quotes the two signs are a character of the text.
    private static string WithTabs(string line)
    {
        int quote = line.IndexOf('"', StringComparison.Ordinal);
        int end = quote >= 0 && quote < PasteCleaner.CodeEnd(line) ? quote : line.Length;
        return line[..end].Replace("\\t", "\t", StringComparison.Ordinal) + line[end..];
    }

    /// <summary>Takes out the lines with which a pager stops.</summary>
    public static string? TakePager(string[] lines)
    {
        string? first = null;
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i].Trim();
            if (!Array.Exists(PagerLines, p => line.StartsWith(p, StringComparison.Ordinal)) || !IsPager(line))
                continue;
            first ??= line;
            lines[i] = "";
        }

        return first is null ? null : $"Lines of a terminal's pager were left out: '{first}'.";
    }

    private static bool IsPager(string line)
    {
        string rest = line.StartsWith("--More--", StringComparison.Ordinal) ? line[8..].Trim() : "";
        return rest.Length == 0 || (rest[0] == '(' && rest[^1] == ')');
    }
}
