using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Rendering;

/// <summary>What recovery changed and doubts, as JSON for other programs and as text for people.</summary>
internal static class RecoveryReport
{
    private static readonly JsonWriterOptions Options = new()
    {
        Indented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>A JSON array, <c>[]</c> when there is nothing to say; lines and columns count from 1, a page that is not known is null.</summary>
    /// <param name="entries">The entries.</param>
    /// <param name="pictures">The files of the pictures of an entry; null where no pictures were asked for.</param>
    public static string Json(
        IEnumerable<RecoveryEntry> entries,
        Func<RecoveryEntry, IReadOnlyList<string>>? pictures = null
    )
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream, Options))
        {
            json.WriteStartArray();
            foreach (RecoveryEntry entry in entries)
            {
                json.WriteStartObject();
                json.WriteNumber("line", entry.Line + 1);
                json.WriteNumber("column", entry.Column + 1);
                json.WriteNumber("endColumn", entry.EndColumn + 1);
                json.WriteString("severity", ProblemText.Word(entry.Severity));
                json.WriteString("code", entry.Code);
                json.WriteString("message", entry.Message);
                if (entry.Page is { } page)
                    json.WriteNumber("page", page);
                else
                    json.WriteNull("page");
                if (pictures?.Invoke(entry) is { Count: > 0 } files)
                {
                    json.WriteStartArray("pictures");
                    foreach (string file in files)
                        json.WriteStringValue(file);
                    json.WriteEndArray();
                }

                json.WriteEndObject();
            }

            json.WriteEndArray();
        }

        return VisibleText.InJson(Encoding.UTF8.GetString(stream.ToArray())) + "\n";
    }

    /// <summary>What a person must look at line by line; changes made without doubt are counted by kind.</summary>
    public static void Write(TextWriter output, IReadOnlyCollection<RecoveryEntry> entries, string shownFile)
    {
        foreach (RecoveryEntry entry in entries.Where(e => e.Severity != Severity.Information))
        {
            string page = entry.Page is { } number
                ? string.Create(CultureInfo.InvariantCulture, $" (page {number})")
                : "";
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{shownFile}:{entry.Line + 1}:{entry.Column + 1}: {ProblemText.Word(entry.Severity)}: {entry.Message}{page} [{entry.Code}]"
                )
            );
        }

        foreach (
            IGrouping<string, RecoveryEntry> same in entries
                .Where(e => e.Severity == Severity.Information)
                .GroupBy(e => e.Code)
                .OrderByDescending(g => g.Count())
        )
        {
            RecoveryEntry first = same.First();
            string more =
                same.Count() > 1
                    ? string.Create(CultureInfo.InvariantCulture, $" (and {same.Count() - 1} more of this kind)")
                    : "";
            output.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"changed: line {first.Line + 1}: {first.Message}{more}")
            );
        }
    }
}
