using AsmLsp.Core.Recovery;

namespace AsmLsp.Pdf.Tests;

/// <summary>Finds the line of a recovered source that stands for a printed one whose characters were misread.</summary>
internal static class Resemblance
{
    // A line that shares so much of its characters, in order, with another one is that line; chance gives about half.
    private const double Alike = 0.7;

    // A program repeats its lines: only those near the place count.
    private const int Near = 12;

    /// <summary>Whether the line that resembles a printed one most, near a place or in the head of the program, is told.</summary>
    public static bool IsTold(RecoveryResult result, bool[] told, string printed, int place)
    {
        string wanted = ShapesOf(Code(printed));
        if (wanted.Length < 6) return false;
        (double best, bool isTold) = (0, false);
        for (int i = 0; i < told.Length; i++)
        {
            if (i > Near && Math.Abs(i - place) > Near) continue;
            string code = ShapesOf(Code(result.Source[i].Text.TrimStart(' ', ';')));
            double alike = 2.0 * Common(wanted, code) / Math.Max(1, wanted.Length + code.Length);
            if (alike > best) (best, isTold) = (alike, told[i]);
        }

        return best >= Alike && isTold;
    }

    /// <summary>A text with one character for those that scans take for each other; blanks left out.</summary>
    public static string ShapesOf(string text) => string.Concat(text.ToLowerInvariant().Where(static c => !char.IsWhiteSpace(c)).Select(static c => c switch { 'l' or 'i' or '|' => '1', 'o' => '0', 'e' => 'c', _ => c }));

    private static string Code(string line) => line.Split(';')[0];

    // The length of the longest row of characters that both have in order.
    private static int Common(string a, string b)
    {
        int[] row = new int[b.Length + 1];
        foreach (char c in a)
        {
            int diagonal = 0;
            for (int j = 1; j <= b.Length; j++) (diagonal, row[j]) = (row[j], c == b[j - 1] ? diagonal + 1 : Math.Max(row[j], row[j - 1]));
        }

        return row[b.Length];
    }
}
