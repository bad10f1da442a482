using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>
/// Puts in labels whose own line could not be read: the words printed beside the lines that go to such a label say its address, and the printed
/// addresses say before which row it is.
/// </summary>
internal static class LabelsByWords
{
    // The address in the word of 'call' and 'goto' (DS30292C, table 13-2).
    private const int AddressBits = 0x7FF;

    // The configuration lies after it (DS30292C, figure 4-1).
    private const int EndOfMemory = 0x2000;

    /// <summary>The source with the labels that the printed words say beyond doubt.</summary>
    public static RecoveryResult Apply(RecoveryResult result, List<ListingLine> lines)
    {
        Dictionary<string, List<int>> asked = Asked(result);
        if (asked.Count == 0)
            return result;
        Dictionary<PrintedPlace, int> lineOf = MissingPieces.LinesByPlace(result);
        var words = new Dictionary<int, int>();
        var rows = new Dictionary<int, int>();
        foreach (ListingLine line in lines)
        {
            if (line.Word < 0 || line.Origin.IsNone || !lineOf.TryGetValue(line.Origin.Places[0], out int at))
                continue;
            words.TryAdd(at, line.Word);
            // An address that is printed twice says nothing.
            if (line.Address is >= 0 and < EndOfMemory && !rows.TryAdd(line.Address & AddressBits, at))
                rows[line.Address & AddressBits] = -1;
        }

        foreach ((string name, List<int> uses) in asked)
        {
            if (
                TargetOf(result, name, uses, words) is not { } target
                || rows.GetValueOrDefault(target, -1) is not (>= 0 and var row)
            )
                continue;
            if (LineSyntax.Of(result.Source[row]).LabelToken >= 0)
                continue;
            if (PutIn(result, name, uses, row) is not { } after)
                continue;
            // The lines below have moved; what else is asked for is looked at again.
            return Apply(after, lines);
        }

        return result;
    }

    private static Dictionary<string, List<int>> Asked(RecoveryResult result)
    {
        var asked = new Dictionary<string, List<int>>(StringComparer.Ordinal);
        foreach (Problem problem in result.Program.Problems)
        {
            if (
                problem.Kind != Catalogue.UndefinedName
                || problem.Severity != Severity.Error
                || problem.Place.File != result.Program.Root
            )
                continue;
            if (!asked.TryGetValue(problem.Arguments[0], out List<int>? uses))
                asked.Add(problem.Arguments[0], uses = []);
            uses.Add(problem.Place.Line);
        }

        return asked;
    }

    // The address that the words of all lines say that go there.
    private static int? TargetOf(RecoveryResult result, string name, List<int> uses, Dictionary<int, int> words)
    {
        int? target = null;
        foreach (int use in uses)
        {
            LineSyntax syntax = LineSyntax.Of(result.Source[use]);
            if (
                syntax.Operation?.ToLowerInvariant() is not ("goto" or "call")
                || !syntax.OperandText.AsSpan().Trim().SequenceEqual(name)
                || !words.TryGetValue(use, out int word)
                || (word & 0x3000) != 0x2000
                || (target ?? (word & AddressBits)) != (word & AddressBits)
            )
                return null;
            target = word & AddressBits;
        }

        return target;
    }

    private static RecoveryResult? PutIn(RecoveryResult result, string name, List<int> uses, int row)
    {
        SourceText source = result.Source.WithEdits([
            new TextEdit(new TextSpan(result.Source.LineStart(row), 0), name + "\n"),
        ]);
        var root = new SourceFile(result.Program.Root.Name, source);
        ProgramAnalysis program = result.Program.With(
            new Dictionary<SourceFile, SourceFile> { [result.Program.Root] = root }
        );
        if (program.Problems.Any(p => p.Kind == Catalogue.UndefinedName && p.Arguments[0] == name))
            return null;
        var asked = new HashSet<int>(uses);
        var entries = new List<RecoveryEntry>();
        foreach (RecoveryEntry entry in result.Entries)
        {
            if (entry.Code == Catalogue.UndefinedName.Code && asked.Contains(entry.Line))
                continue;
            entries.Add(entry.Line >= row ? entry with { Line = entry.Line + 1 } : entry);
        }

        entries.Add(
            new RecoveryEntry(
                row,
                0,
                name.Length,
                Severity.Information,
                DocumentCodes.PrintedWordRead,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The label {name} was put in here: no line with it could be read, and the words printed beside {uses.Count} lines that go to it give this address."
                ),
                result.Origins[row].Page > 0 ? result.Origins[row].Page : null
            )
        );
        return result with
        {
            Source = source,
            Program = program,
            Origins = result.Origins.Insert(row, LineOrigin.None),
            Doubts = result.Doubts.Moved([
                .. Enumerable.Range(0, result.Source.LineCount).Select(i => i < row ? i : i + 1),
            ]),
            Entries = [.. entries],
        };
    }
}
