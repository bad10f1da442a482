using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Rendering;

/// <summary>
/// What all JSON for scripts has in common: the form of a place and of a problem, and of words and addresses. docs/schemas describes each result;
/// lines and columns count from 1, and a file or page that is not known is null.
/// </summary>
internal static class JsonText
{
    private static readonly JsonWriterOptions Options = new()
    {
        Indented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>A JSON text, ended by a line feed, in which nothing commands a terminal.</summary>
    public static string Write(Action<Utf8JsonWriter> content)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Options))
            content(json);
        return VisibleText.InJson(Encoding.UTF8.GetString(stream.ToArray())) + "\n";
    }

    /// <summary>A word or an address: <c>0x2007</c>.</summary>
    public static string Hex(int value) => string.Create(CultureInfo.InvariantCulture, $"0x{value:X4}");

    /// <summary>The parts of a place, in an object that is open; line and columns count from 0 here.</summary>
    public static void Place(Utf8JsonWriter json, string? file, int line, int column, int endColumn)
    {
        json.WriteString("file", file);
        json.WriteNumber("line", line + 1);
        json.WriteNumber("column", column + 1);
        json.WriteNumber("endColumn", endColumn + 1);
    }

    /// <summary>A problem of a source.</summary>
    public static void Problem(Utf8JsonWriter json, Problem problem)
    {
        json.WriteStartObject();
        Place(
            json,
            Sources.Shown(problem.Place.File.Name),
            problem.Place.Line,
            problem.Place.Columns.Start,
            problem.Place.Columns.End
        );
        Matter(json, problem.Severity, problem.Code, problem.Message, page: null);
        json.WriteEndObject();
    }

    /// <summary>An entry of the report of a recovery.</summary>
    /// <param name="json">Where it goes.</param>
    /// <param name="entry">The entry.</param>
    /// <param name="file">The file that the source goes to; null for standard output.</param>
    /// <param name="pictures">The files of its pictures.</param>
    public static void Entry(
        Utf8JsonWriter json,
        RecoveryEntry entry,
        string? file,
        IReadOnlyList<string>? pictures = null
    )
    {
        json.WriteStartObject();
        Place(json, file, entry.Line, entry.Column, entry.EndColumn);
        Matter(json, entry.Severity, entry.Code, entry.Message, entry.Page);
        if (!entry.Related.IsEmpty)
        {
            json.WriteStartArray("related");
            foreach (ReportedPlace place in entry.Related)
            {
                json.WriteStartObject();
                Place(json, file, place.Line, place.Column, place.EndColumn);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        }

        if (pictures is { Count: > 0 })
            Texts(json, "pictures", pictures);
        json.WriteEndObject();
    }

    /// <summary>A list of texts.</summary>
    public static void Texts(Utf8JsonWriter json, string name, IEnumerable<string> texts)
    {
        json.WriteStartArray(name);
        foreach (string text in texts)
            json.WriteStringValue(text);
        json.WriteEndArray();
    }

    /// <summary>A list of objects.</summary>
    /// <param name="json">Where it goes.</param>
    /// <param name="name">The name of the list.</param>
    /// <param name="items">What it has an object of each.</param>
    /// <param name="content">Writes what is in the object of an item.</param>
    public static void List<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<T> content)
    {
        json.WriteStartArray(name);
        foreach (T item in items)
        {
            json.WriteStartObject();
            content(item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>A list of problems.</summary>
    public static void Problems(Utf8JsonWriter json, string name, IEnumerable<Problem> problems)
    {
        json.WriteStartArray(name);
        foreach (Problem problem in problems)
            Problem(json, problem);
        json.WriteEndArray();
    }

    /// <summary>A number, or null.</summary>
    public static void Number(Utf8JsonWriter json, string name, int? value)
    {
        if (value is { } number)
            json.WriteNumber(name, number);
        else
            json.WriteNull(name);
    }

    private static void Matter(Utf8JsonWriter json, Severity severity, string code, string message, int? page)
    {
        json.WriteString("severity", ProblemText.Word(severity));
        json.WriteString("code", code);
        json.WriteString("message", message);
        Number(json, "page", page);
    }
}
