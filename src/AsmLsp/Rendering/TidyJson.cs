using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;

namespace AsmLsp.Rendering;

/// <summary>What tidying did to a file.</summary>
/// <param name="File">The file as a person named it.</param>
/// <param name="IsChanged">Whether its text changes.</param>
/// <param name="IsWritten">Whether the change was written.</param>
/// <param name="Changes">The changes.</param>
/// <param name="Left">The problems that are left.</param>
internal sealed record TidyReport(
    string File,
    bool IsChanged,
    bool IsWritten,
    IReadOnlyList<FixChange> Changes,
    IReadOnlyList<Problem> Left
);

/// <summary>What tidying did, for scripts.</summary>
internal static class TidyJson
{
    /// <summary>A list with one object a file; docs/schemas/tidy.json describes it.</summary>
    public static string Of(IEnumerable<TidyReport> reports) =>
        JsonText.Write(json =>
        {
            json.WriteStartArray();
            foreach (TidyReport report in reports)
            {
                json.WriteStartObject();
                json.WriteString("file", report.File);
                json.WriteBoolean("changed", report.IsChanged);
                json.WriteBoolean("written", report.IsWritten);
                json.WriteStartArray("changes");
                foreach (FixChange change in report.Changes)
                {
                    json.WriteStartObject();
                    JsonText.Place(json, report.File, change.Line, 0, 0);
                    json.WriteString("code", change.Kind.Code);
                    json.WriteString("message", change.What);
                    json.WriteEndObject();
                }

                json.WriteEndArray();
                JsonText.Problems(json, "problems", report.Left);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        });
}
