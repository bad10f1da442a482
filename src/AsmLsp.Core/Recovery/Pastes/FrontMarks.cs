namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>A mark in front of nearly every line: a quoted mail, added lines of a comparison, the frame of a terminal. No program has one.</summary>
internal static class FrontMarks
{
    // A line of code starts with none of these.
    private const string Marks = ">|+\u2502\u00A6\u00BB\u203A\u2022\u00B7\u2551\u2503*";

    // Of a mail, lines that were wrapped again and answers have no mark.
    private const char OfMail = '>';

    /// <summary>Takes the mark off, and the blank that is after each.</summary>
    public static string? Take(string[] lines)
    {
        int written = lines.Count(static l => !string.IsNullOrWhiteSpace(l));
        foreach (char mark in Marks)
        {
            int marked = lines.Count(l => IsMarked(l, mark));
            if (
                mark == OfMail
                    ? marked < PasteCleaner.LeastLines || marked * 2 < written
                    : !PasteCleaner.IsNearlyAll(marked, written)
            )
                continue;
            bool hasBlank = !lines.Any(l => IsMarked(l, mark) && Rest(l) is [not ' ', ..]);
            for (int i = 0; i < lines.Length; i++)
            {
                if (!IsMarked(lines[i], mark))
                    continue;
                string rest = Rest(lines[i]);
                lines[i] = hasBlank && rest.Length > 0 ? rest[1..] : rest;
            }

            return $"The mark '{mark}' in front of the lines was taken off.";
        }

        return null;
    }

    private static bool IsMarked(string line, char mark) =>
        line.AsSpan().TrimStart() is [var first, ..] && first == mark;

    private static string Rest(string line) => line.TrimStart()[1..];
}
