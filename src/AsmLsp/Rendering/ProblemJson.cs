using System.Text.Json;
using AsmLsp.Core.Problems;

namespace AsmLsp.Rendering;

/// <summary>Problems for other programs: a plain JSON array, or SARIF 2.1.0 (OASIS standard).</summary>
internal static class ProblemJson
{
    /// <summary>A JSON array with one object a problem; docs/schemas/check.json describes it.</summary>
    public static string Plain(IEnumerable<Problem> problems) =>
        JsonText.Write(json =>
        {
            json.WriteStartArray();
            foreach (Problem problem in problems)
                JsonText.Problem(json, problem);
            json.WriteEndArray();
        });

    /// <summary>A SARIF log with one run.</summary>
    public static string Sarif(IReadOnlyCollection<Problem> problems, Func<string, string> shown, string version) =>
        JsonText.Write(json =>
        {
            json.WriteStartObject();
            json.WriteString(
                "$schema",
                "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
            );
            json.WriteString("version", "2.1.0");
            json.WriteStartArray("runs");
            json.WriteStartObject();
            json.WriteStartObject("tool");
            json.WriteStartObject("driver");
            json.WriteString("name", "relist");
            json.WriteString("version", version);
            json.WriteStartArray("rules");
            foreach (
                ProblemKind kind in problems.Select(p => p.Kind).Distinct().OrderBy(k => k.Code, StringComparer.Ordinal)
            )
            {
                json.WriteStartObject();
                json.WriteString("id", kind.Code);
                json.WriteStartObject("defaultConfiguration");
                json.WriteString("level", Level(kind.Severity));
                json.WriteEndObject();
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
            json.WriteEndObject();
            json.WriteString("columnKind", "utf16CodeUnits");
            json.WriteStartArray("results");
            foreach (Problem problem in problems)
                Result(json, problem, shown);
            json.WriteEndArray();
            json.WriteEndObject();
            json.WriteEndArray();
            json.WriteEndObject();
        });

    private static void Result(Utf8JsonWriter json, Problem problem, Func<string, string> shown)
    {
        json.WriteStartObject();
        json.WriteString("ruleId", problem.Code);
        json.WriteString("level", Level(problem.Severity));
        json.WriteStartObject("message");
        json.WriteString("text", problem.Message);
        json.WriteEndObject();
        json.WriteStartArray("locations");
        json.WriteStartObject();
        json.WriteStartObject("physicalLocation");
        json.WriteStartObject("artifactLocation");
        json.WriteString(
            "uri",
            string.Join('/', shown(problem.Place.File.Name).Replace('\\', '/').Split('/').Select(Uri.EscapeDataString))
        );
        json.WriteEndObject();
        json.WriteStartObject("region");
        json.WriteNumber("startLine", problem.Place.Line + 1);
        json.WriteNumber("startColumn", problem.Place.Columns.Start + 1);
        json.WriteNumber("endColumn", problem.Place.Columns.End + 1);
        json.WriteEndObject();
        json.WriteEndObject();
        json.WriteEndObject();
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static string Level(Severity severity) =>
        severity switch
        {
            Severity.Error => "error",
            Severity.Warning => "warning",
            _ => "note",
        };
}
