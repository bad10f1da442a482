using AsmLsp.Core.Explain;

namespace AsmLsp.Rendering;

/// <summary>An explanation of a place.</summary>
/// <param name="File">The file as a person named it; null for a page about a problem.</param>
/// <param name="Line">The line, from 0.</param>
/// <param name="Code">The code of the problem that a page is about, or null.</param>
/// <param name="Source">The line as it is written; null for a page.</param>
/// <param name="Explanation">The explanation.</param>
internal sealed record ExplainedPlace(string? File, int Line, string? Code, string? Source, Explanation Explanation);

/// <summary>Explanations for scripts.</summary>
internal static class ExplainJson
{
    /// <summary>A list with one object a place; docs/schemas/explain.json describes it.</summary>
    public static string Of(IEnumerable<ExplainedPlace> places) =>
        JsonText.Write(json =>
        {
            json.WriteStartArray();
            foreach (ExplainedPlace place in places)
            {
                json.WriteStartObject();
                JsonText.Place(json, place.File, place.Line, place.Explanation.Span.Start, place.Explanation.Span.End);
                json.WriteString("code", place.Code);
                json.WriteString("source", place.Source);
                json.WriteString("markdown", place.Explanation.Markdown);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        });
}
