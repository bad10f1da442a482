using System.Text;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Bench;

/// <summary>The card as Markdown (CommonMark with tables).</summary>
public static class CardMarkdown
{
    /// <summary>The text; lines end with a line feed.</summary>
    public static string Of(BenchCard card)
    {
        ArgumentNullException.ThrowIfNull(card);
        var text = new StringBuilder();
        Line($"# {Plain(card.Subject.Name)} in {Plain(card.Device.Name)}");
        foreach (string warning in CardNotes.Warnings(card))
            Line($"\n**{Plain(warning)}**");
        Line("\n## HEX file and chip\n");
        Line("| what | value |\n| --- | --- |");
        foreach (BenchFact fact in card.Facts)
            Line($"| {Plain(fact.Name)} | {Plain(fact.Value)} |");
        Line("\n## Configuration\n");
        Line("| field | setting |\n| --- | --- |");
        foreach ((ConfigurationWord _, DecodedField field) in card.Configuration.Fields)
            Line($"| {Plain(field.Field.Name)} | {Plain(field.Meaning)} |");
        if (!card.Pins.IsEmpty)
        {
            Line("\n## Pins after the start\n");
            Line("| pin | functions | here | programming |\n| --- | --- | --- | --- |");
            foreach (BenchPin pin in card.Pins)
                Line(
                    BenchCard.Text(
                        $"| {pin.Number} | {Plain(string.Join(" ", pin.Functions))} | {Plain(pin.Role)} | {Plain(pin.Programming ?? "")} |"
                    )
                );
        }

        Line("\n## The board must have\n");
        foreach (string demand in card.Board)
            Line($"- {Plain(demand)}");
        Probes("Probe before programming, with a blank chip", card.Before);
        Probes("Probe after programming", card.After);
        Line($"\n{Plain(CardNotes.OfRuns(card))}");
        Line("\n## Programming, step by step\n");
        int number = 0;
        foreach (BenchStep step in card.Steps)
        {
            Line(BenchCard.Text($"{++number}. [ ] {Plain(step.Text)}"));
            foreach (string caution in step.Cautions)
                Line($"   - **Caution:** {Plain(caution)}");
        }

        if (card.Subject.Boards > 0)
        {
            Line("\n## The batch\n");
            Line($"| {string.Join(" | ", CardNotes.BatchColumns)} |");
            Line($"|{string.Concat(CardNotes.BatchColumns.Select(static _ => " --- |"))}");
            for (int board = 1; board <= card.Subject.Boards; board++)
                Line(
                    BenchCard.Text($"| {board} |")
                        + string.Concat(
                            CardNotes.BatchColumns.Skip(1).Select(static c => CardNotes.IsTick(c) ? " [ ] |" : "  |")
                        )
                );
        }

        if (card.Subject.Labels > 0)
        {
            Line("\n## Labels\n");
            for (int i = 0; i < card.Subject.Labels; i++)
                Line($"- {Plain(card.Subject.Name)}, {Plain(CardNotes.LabelText(card))}, date \\_\\_\\_\\_\\_\\_");
        }

        return text.ToString();

        void Line(string line) => text.Append(line).Append('\n');

        void Probes(string title, IEnumerable<Probe> probes)
        {
            Line($"\n## {title}\n");
            Line("| done | where | what is to be seen |\n| --- | --- | --- |");
            foreach (Probe probe in probes)
                Line($"| [ ] | {Plain(probe.Where)} | {Plain(probe.Expect)} |");
        }
    }

    // Text from outside is text, whatever it holds: every mark of Markdown and of HTML is escaped, and a line stays one line.
    private static string Plain(string content)
    {
        var safe = new StringBuilder(content.Length + 8);
        foreach (char c in VisibleText.Of(content))
        {
            if (c is '\n' or '\r' or '\t')
            {
                safe.Append(' ');
                continue;
            }

            if (c is '\\' or '`' or '*' or '_' or '[' or ']' or '<' or '>' or '#' or '|' or '~' or '!' or '&')
                safe.Append('\\');
            safe.Append(c);
        }

        return safe.ToString();
    }
}
