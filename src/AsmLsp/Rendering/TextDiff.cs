using System.Globalization;
using DiffPlex;
using DiffPlex.DiffBuilder;
using DiffPlex.DiffBuilder.Model;

namespace AsmLsp.Rendering;

/// <summary>The difference of two texts for people: changed lines with two lines around them.</summary>
internal static class TextDiff
{
    private const int Around = 2;

    public static void Write(TextWriter output, string before, string after, string name, string what = "tidied")
    {
        if (before == after)
            return;
        List<DiffPiece> lines = InlineDiffBuilder.Diff(before, after, ignoreWhiteSpace: false).Lines;
        output.WriteLine($"--- {name}");
        output.WriteLine($"+++ {name} ({what})");
        int shown = -1;
        int number = 0;
        var numbers = new int[lines.Count];
        for (int i = 0; i < lines.Count; i++)
            numbers[i] = lines[i].Type == ChangeType.Inserted ? number : ++number;
        for (int i = 0; i < lines.Count; i++)
        {
            if (lines[i].Type == ChangeType.Unchanged)
                continue;
            int from = Math.Max(shown + 1, i - Around);
            if (from > shown + 1 || shown < 0)
                output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"@@ line {numbers[from]} @@"));
            for (int k = from; k < i; k++)
                output.WriteLine("  " + lines[k].Text);
            output.WriteLine((lines[i].Type == ChangeType.Inserted ? "+ " : "- ") + lines[i].Text);
            shown = i;
            for (
                int k = i + 1;
                k <= Math.Min(i + Around, lines.Count - 1) && lines[k].Type == ChangeType.Unchanged;
                k++
            )
            {
                output.WriteLine("  " + lines[k].Text);
                shown = k;
            }
        }
    }
}
