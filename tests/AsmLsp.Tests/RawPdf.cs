using System.Text;

namespace AsmLsp.Tests;

/// <summary>PDF files written by hand (ISO 32000-1, 7.5): text in Courier, twelve points from line to line.</summary>
internal static class RawPdf
{
    /// <summary>A document of pages of lines.</summary>
    public static byte[] Of(params string[][] pages)
    {
        var objects = new List<string>
        {
            "<< /Type /Catalog /Pages 2 0 R >>",
            $"<< /Type /Pages /Kids [{string.Join(' ', pages.Select((_, i) => $"{4 + 2 * i} 0 R"))}] /Count {pages.Length} >>",
            "<< /Type /Font /Subtype /Type1 /BaseFont /Courier >>",
        };
        foreach (string[] page in pages)
        {
            string content = Content(page);
            objects.Add(
                $"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Resources << /Font << /F1 3 0 R >> >> /Contents {objects.Count + 2} 0 R >>"
            );
            objects.Add($"<< /Length {content.Length} >>\nstream\n{content}\nendstream");
        }

        return File([.. objects]);
    }

    /// <summary>The drawing of lines, the first one at the top.</summary>
    public static string Content(IEnumerable<string> lines) =>
        "BT /F1 7 Tf 12 TL 40 780 Td "
        + string.Concat(
            lines.Select(l =>
                $"({l.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("(", "\\(", StringComparison.Ordinal).Replace(")", "\\)", StringComparison.Ordinal)}) Tj T* "
            )
        )
        + "ET";

    /// <summary>A file of objects, numbered from 1; the first one is the catalog.</summary>
    public static byte[] File(params string[] objects)
    {
        var file = new StringBuilder("%PDF-1.4\n");
        var offsets = new List<int>();
        for (int i = 0; i < objects.Length; i++)
        {
            offsets.Add(file.Length);
            file.Append(FormattableString.Invariant($"{i + 1} 0 obj\n{objects[i]}\nendobj\n"));
        }

        int table = file.Length;
        file.Append(FormattableString.Invariant($"xref\n0 {objects.Length + 1}\n0000000000 65535 f \n"));
        foreach (int offset in offsets)
            file.Append(FormattableString.Invariant($"{offset:D10} 00000 n \n"));
        file.Append(
            FormattableString.Invariant(
                $"trailer\n<< /Size {objects.Length + 1} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n"
            )
        );
        return Encoding.Latin1.GetBytes(file.ToString());
    }

    /// <summary>The folder of the solution.</summary>
    public static string Repository()
    {
        string? at = AppContext.BaseDirectory;
        while (at is not null && !System.IO.File.Exists(Path.Combine(at, "AsmLsp.sln")))
            at = Path.GetDirectoryName(at);
        return at ?? throw new InvalidOperationException("The folder of the solution is not found above the tests.");
    }
}
