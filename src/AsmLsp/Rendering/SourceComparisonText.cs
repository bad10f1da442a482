using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Text;
using AsmLsp.Host.Comparison;

namespace AsmLsp.Rendering;

/// <summary>The differences of two readings for people: both lines, and the words that each gives.</summary>
internal static class SourceComparisonText
{
    public static void Write(TextWriter output, SourceComparison comparison, string first, string second)
    {
        var firstWords = SourceComparison.WordsByLine(comparison.First);
        var secondWords = SourceComparison.WordsByLine(comparison.Second);
        int width = Math.Max(first.Length, second.Length);
        foreach (SourceDifference difference in comparison.Differences)
        {
            bool isFirst = difference.First >= 0;
            if (isFirst && difference.Second >= 0)
            {
                string what =
                    difference.Words.Length == 0 ? $"'{difference.OtherWords}' is missing in {first}"
                    : difference.OtherWords.Length == 0 ? $"'{difference.Words}' is missing in {second}"
                    : $"'{difference.Words}' or '{difference.OtherWords}'?";
                output.WriteLine(
                    $"{Place(first, comparison.First, difference.First, difference.Words)}, {Place(second, comparison.Second, difference.Second, difference.OtherWords)}: {what}"
                );
                Line(output, first, width, comparison.First.Root.Text, difference.First, firstWords);
                Line(output, second, width, comparison.Second.Root.Text, difference.Second, secondWords);
                continue;
            }

            (string has, string lacks) = isFirst ? (first, second) : (second, first);
            ProgramAnalysis reading = isFirst ? comparison.First : comparison.Second;
            int line = isFirst ? difference.First : difference.Second;
            if (difference.Count > 1)
            {
                output.WriteLine(
                    difference.IsEnd
                        ? Invariant(
                            $"{lacks} ends before line {line + 1} of {has}: from there to line {difference.LastLine + 1} only one source has it."
                        )
                        : Invariant(
                            $"{has}:{line + 1} to {difference.LastLine + 1}: {difference.Count} lines of the program are not in {lacks}: only one source has it."
                        )
                );
                continue;
            }

            output.WriteLine($"{Place(has, reading, line, "")}: not in {lacks}");
            Line(output, has, has.Length, reading.Root.Text, line, isFirst ? firstWords : secondWords);
        }

        if (comparison.WordsDifferAnyway)
            output.WriteLine(
                "All lines agree, but they do not build to the same words: the files that they include differ. Compare those, too."
            );
        string otherwise =
            comparison.WrittenOtherwise == 0
                ? ""
                : Invariant($" ({comparison.WrittenOtherwise} of them with other blanks, comments, case or notation)");
        output.WriteLine(
            comparison.IsSame
                ? Invariant($"Both sources are the same program: all {Lines(comparison.Agreeing)} agree{otherwise}.")
                : Invariant($"{Count(comparison)}; {Lines(comparison.Agreeing)} agree{otherwise}.")
        );
    }

    private static string Count(SourceComparison comparison) =>
        comparison.Differences.Length == 1 ? "1 difference" : Invariant($"{comparison.Differences.Length} differences");

    // Where the words are that differ; else where the line begins.
    private static string Place(string name, ProgramAnalysis reading, int line, string words)
    {
        string text = reading.Root.Text[line].Text;
        int column = words.Length > 0 ? text.IndexOf(words, StringComparison.Ordinal) : -1;
        if (column < 0)
            column = text.Length - text.TrimStart().Length;
        return Invariant($"{name}:{line + 1}:{column + 1}");
    }

    private static string Lines(int count) => count == 1 ? "1 line" : Invariant($"{count} lines");

    private static void Line(
        TextWriter output,
        string name,
        int width,
        SourceText text,
        int line,
        IReadOnlyDictionary<int, IReadOnlyList<(int Address, ushort Word)>> words
    )
    {
        string gives = words.TryGetValue(line, out IReadOnlyList<(int Address, ushort Word)>? own)
            ? "   gives "
                + string.Join(" ", own.Take(4).Select(static w => Show(w.Word)))
                + (own.Count > 4 ? " ..." : "")
            : "";
        output.WriteLine($"    {name.PadRight(width)}  {text[line].Text.Trim().Replace('\t', ' ')}{gives}");
    }

    private static string Show(ushort word) =>
        InstructionSet.Decode(word) is { } decoded
            ? Invariant($"{word:X4} ({decoded.Instruction.Name})")
            : word.ToString("X4", CultureInfo.InvariantCulture);

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
