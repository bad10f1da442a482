using System.Globalization;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Rendering;

/// <summary>What recovery changed and doubts, as JSON for other programs and as text for people.</summary>
internal static class RecoveryReport
{
    /// <summary>A JSON array, <c>[]</c> when there is nothing to say; docs/schemas/recover.json describes it.</summary>
    /// <param name="result">What was recovered, with the printed files that the program includes.</param>
    /// <param name="file">The file that the source goes to; null for standard output.</param>
    /// <param name="pictures">The files of the pictures of an entry; null where no pictures were asked for.</param>
    public static string Json(
        RecoveryResult result,
        string? file,
        Func<RecoveryEntry, RecoveryResult, IReadOnlyList<string>>? pictures = null
    ) =>
        JsonText.Write(json =>
        {
            json.WriteStartArray();
            foreach (RecoveryEntry entry in result.Entries)
                JsonText.Entry(json, entry, file, pictures?.Invoke(entry, result));
            foreach (PrintedFile printed in result.Files)
            foreach (RecoveryEntry entry in printed.Result.Entries)
                JsonText.Entry(json, entry, Beside(file, printed.Name), pictures?.Invoke(entry, printed.Result));
            json.WriteEndArray();
        });

    /// <summary>A file beside the source, as the source is named.</summary>
    public static string Beside(string? file, string name) =>
        Path.GetDirectoryName(file) is { Length: > 0 } folder ? Path.Combine(folder, name) : name;

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
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{shownFile}:{first.Line + 1}:{first.Column + 1}: {ProblemText.Word(first.Severity)}: {first.Message}{more} [{first.Code}]"
                )
            );
        }
    }
}
