using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Doubts a configuration whose settings may be printed on other lines as well: a cell of a table, or a column, can part an
/// expression so that its first half still reads as a whole one.
/// </summary>
internal static class ScatteredConfiguration
{
    /// <summary>Adds a doubt to the lines that set the configuration, and to those of the source that hold settings without being able to use them.</summary>
    /// <param name="result">The recovered source.</param>
    public static RecoveryResult Mark(RecoveryResult result)
    {
        if (result.Program.Device is not { } device)
            return result;
        HashSet<int> own = LinesOf(result.Program);
        var strays = new List<int>();
        for (int i = 0; i < result.Source.LineCount; i++)
            if (
                !own.Contains(i)
                && (result.Program.FactsOf(result.Program.Root, i).Role & LineRole.AfterEnd) == 0
                && HoldsSettings(LineSyntax.Of(result.Source[i]), device)
            )
                strays.Add(i);
        return strays.Count == 0 ? result : Doubted(result, own.Concat(strays), result.Source[strays[0]].Text.Trim());
    }

    /// <summary>Adds a doubt to the lines that set the configuration, where settings are printed elsewhere without belonging to anything.</summary>
    /// <param name="result">The recovered source.</param>
    /// <param name="lines">The lines of the listing.</param>
    /// <param name="aside">What the document holds beside the program.</param>
    public static RecoveryResult Mark(RecoveryResult result, List<ListingLine> lines, IEnumerable<AsideLine> aside)
    {
        if (
            result.Program.Device is not { } device
            || result.Entries.Any(static e => e.Code == DocumentCodes.ScatteredConfiguration)
        )
            return result;
        HashSet<int> own = LinesOf(result.Program);
        return own.Count == 0 || Stray(result, device, own, lines, aside) is not { } stray
            ? result
            : Doubted(result, own, stray);
    }

    private static RecoveryResult Doubted(RecoveryResult result, IEnumerable<int> doubted, string stray)
    {
        var doubts = new SortedDictionary<int, Doubt>();
        var entries = new List<RecoveryEntry>();
        foreach (int line in doubted.Order())
        {
            LineOrigin origin = line < result.Origins.Length ? result.Origins[line] : LineOrigin.None;
            doubts.Add(
                line,
                new Doubt("are more settings printed?")
                {
                    Kind = DoubtKind.Missing,
                    Origin = RecoveredDoubts.PrintOf(result, line),
                    Evidence = DocumentCodes.ScatteredConfiguration,
                }
            );
            entries.Add(
                new RecoveryEntry(
                    line,
                    0,
                    result.Source[line].Text.Length,
                    Severity.Warning,
                    DocumentCodes.ScatteredConfiguration,
                    $"'{stray}' is printed apart from the configuration and may belong to it. Compare this line with the page.",
                    origin.Page > 0 ? origin.Page : null
                )
            );
        }

        return RecoveredDoubts.Add(result, doubts, entries);
    }

    // A label, or an operand of an instruction, with the name of a setting: no program means that.
    private static bool HoldsSettings(LineSyntax syntax, Device device)
    {
        if (syntax.OperationKind is OperationKind.Directive or OperationKind.Assignment)
            return false;
        for (int i = 0; i < syntax.EndOfCode; i++)
            if (
                syntax.Tokens[i].Kind == TokenKind.Name
                && syntax.Text[syntax.Tokens[i].Start] == '_'
                && device.Symbols.FindAnyCase(syntax.TextOf(i))?.Setting is not null
            )
                return true;
        return false;
    }

    private static HashSet<int> LinesOf(ProgramAnalysis program)
    {
        var lines = new HashSet<int>();
        foreach (ConfigurationWord word in program.Device!.ConfigurationWords)
            if (
                program.Image.TryGet(word.Address, out _, out WordOrigin origin)
                && origin.Outermost is var (file, line)
                && file == program.Root
            )
                lines.Add(line);
        return lines;
    }

    // The first printed text with settings that did not come to the lines of the configuration.
    private static string? Stray(
        RecoveryResult result,
        Device device,
        HashSet<int> own,
        List<ListingLine> lines,
        IEnumerable<AsideLine> aside
    )
    {
        var places = new HashSet<PrintedPlace>();
        foreach (int line in own)
            if (line < result.Origins.Length)
                places.UnionWith(result.Origins[line].Places);
        foreach (ListingLine line in lines)
            if (IsSettings(line.Text, device) && !line.Origin.Places.Any(places.Contains))
                return line.Text.Trim();
        foreach (AsideLine line in aside)
            if (IsSettings(line.Printed.Text, device))
                return line.Printed.Text.Trim();
        return null;
    }

    // Settings of the chip with operators between them, in front or after, and nothing else.
    private static bool IsSettings(string text, Device device)
    {
        bool any = false;
        foreach (
            string word in text.Split(
                (char[])[' ', '\t', '&', '+', '|', '(', ')', '\\'],
                StringSplitOptions.RemoveEmptyEntries
            )
        )
        {
            if (word[0] != '_' || device.Symbols.FindAnyCase(word)?.Setting is null)
                return false;
            any = true;
        }

        return any;
    }
}
