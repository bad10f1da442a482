using System.Text.Json;
using AsmLsp.Core.Assembly;
using AsmLsp.Host.Comparison;

namespace AsmLsp.Rendering;

/// <summary>The differences of two sources of one listing, for scripts.</summary>
internal static class SourceComparisonJson
{
    /// <summary>An object; docs/schemas/compare-lines.json describes it.</summary>
    public static string Of(SourceComparison comparison, string first, string second) =>
        JsonText.Write(json =>
        {
            json.WriteStartObject();
            json.WriteBoolean("same", comparison.IsSame);
            json.WriteNumber("agreeingLines", comparison.Agreeing);
            json.WriteStartArray("differences");
            foreach (SourceDifference difference in comparison.Differences)
            {
                json.WriteStartObject();
                Side(json, "first", first, comparison.First, difference.First, difference);
                Side(json, "second", second, comparison.Second, difference.Second, difference);
                json.WriteNumber("lines", difference.Count);
                json.WriteString("firstWords", difference.Words);
                json.WriteString("secondWords", difference.OtherWords);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        });

    private static void Side(
        Utf8JsonWriter json,
        string name,
        string file,
        ProgramAnalysis program,
        int line,
        SourceDifference difference
    )
    {
        if (line < 0)
        {
            json.WriteNull(name);
            return;
        }

        json.WriteStartObject(name);
        JsonText.Place(json, file, line, 0, program.Root.Text[line].Text.Length);
        json.WriteNumber("lastLine", Math.Max(line, difference.LastLine) + 1);
        json.WriteString("source", program.Root.Text[line].Text);
        json.WriteEndObject();
    }
}
