using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>
/// Rows of an included file that a listing prints below the line that includes it: their numbers begin at one, and after them the count continues
/// where it was left. Where the file is known, they are there already and become comments; where it is not, they are the program's, and the line
/// that asks for the file becomes one.
/// </summary>
internal static class IncludedRows
{
    /// <summary>The lines with such rows resolved, and a sentence for the report about each file.</summary>
    /// <param name="lines">The lines of the listing.</param>
    /// <param name="options">How the program is to be assembled.</param>
    /// <param name="proved">Takes the rows that are proved to be no lines of the program.</param>
    public static (List<ListingLine> Lines, List<(ListingLine At, string Message)> Reported) Resolve(
        List<ListingLine> lines,
        RecoveryOptions options,
        HashSet<PrintedPlace> proved
    )
    {
        var reported = new List<(ListingLine, string)>();
        var result = new List<ListingLine>(lines);
        for (int i = 0; i < lines.Count; i++)
        {
            if (lines[i].Number < 0 || FileOf(lines[i].Text) is not { } name || EndOf(lines, i) is not { } end)
                continue;
            string count = string.Create(CultureInfo.InvariantCulture, $"{end - i - 1} rows");
            bool isKnown = IsKnown(name, options);
            for (int j = i + 1; j < end; j++)
            {
                result[j] = lines[j] with { Number = -1 };
                if (!isKnown)
                    continue;
                if (!lines[j].Origin.IsNone)
                    proved.Add(lines[j].Origin.Places[0]);
                result[j] = result[j] with
                {
                    Text = AsComment(lines[j].Text),
                    Address = -1,
                    Word = ListingLine.NoWord,
                    MoreWords = [],
                    IsRow = false,
                    IsRest = false,
                };
            }

            if (!isKnown)
                result[i] = lines[i] with { Text = AsComment(lines[i].Text) };
            // It continues with the count of the program, whatever number the file's last row has.
            if (end < result.Count)
                result[end] = result[end] with { IsRest = false };
            reported.Add(
                (
                    lines[i],
                    isKnown
                        ? $"The {count} of '{name}' that are printed below its include line were made comments: the file is read itself."
                        : $"The {count} of '{name}' are printed below its include line, so that line became a comment. They replace it."
                )
            );
            i = end - 1;
        }

        return (reported.Count == 0 ? lines : result, reported);
    }

    private static string AsComment(string text) =>
        text.AsSpan().Trim() is { IsEmpty: false } filled && filled[0] != ';' ? "; " + text.Trim() : text;

    private static string? FileOf(string text)
    {
        LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(text));
        if (syntax.Keyword != Keyword.Include)
            return null;
        string name = syntax.OperandText.Trim().Trim('<', '>', '"').Trim();
        return name.Length == 0 ? null : name;
    }

    private static bool IsKnown(string name, RecoveryOptions options) =>
        options.Includes?.Resolve(name, new SourceFile(options.Name, SourceText.From(""))) is not null
        || (DeviceCatalog.IsHeaderName(name, out string device) && DeviceCatalog.Find(device) is not null);

    // The row that continues with the count; null where the numbers below the line do not begin anew, or never come back.
    private static int? EndOf(List<ListingLine> lines, int at)
    {
        int number = lines[at].Number,
            last = 0;
        int? perhaps = null;
        for (int i = at + 1; i < lines.Count; i++)
        {
            int here = lines[i].Number;
            if (here < 0)
                continue;
            if (last == 0 && (here != 1 || here == number + 1))
                return null;
            if (here == number + 1)
            {
                // A file with as many lines as are above the include continues with the same number.
                if (last != number)
                    return i;
                perhaps = i;
            }
            else if (here <= last)
                return perhaps;
            last = here;
        }

        return perhaps;
    }
}
