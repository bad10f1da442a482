using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// Finds where the definition of a name was lost: a row that was left out and has the name in the place of a label, or the one gap in the numbers, addresses
/// or pages; among several gaps the address that is printed beside the lines with the name says which. The name is reported there, once.
/// </summary>
internal sealed class LostDefinitions
{
    private const int MostLines = 6;

    // The lower bits of a call or jump are its address on the page (DS30292C, table 13-2).
    private const int AddressBits = 0x7FF;

    private readonly RecoveryResult result;
    private readonly Dictionary<PrintedPlace, ListingLine> printed = [];
    private readonly Dictionary<string, List<SourcePlace>> uses = new(StringComparer.Ordinal);
    private readonly IReadOnlyList<(PrintedLine Line, string Text)> leftOut;
    private readonly int[] gaps;
    private readonly Func<int, int> rankOf;

    private LostDefinitions(
        RecoveryResult result,
        IReadOnlyList<ListingLine> lines,
        IReadOnlyList<(PrintedLine Line, string Text)> leftOut,
        Func<int, int> rankOf
    )
    {
        (this.result, this.leftOut, this.rankOf) = (result, leftOut, rankOf);
        foreach (ListingLine line in lines)
            if (!line.Origin.IsNone)
                printed.TryAdd(line.Origin.Places[0], line);
        foreach (Problem problem in result.Program.Problems)
        {
            if (problem.Kind != Catalogue.UndefinedName || problem.Place.File != result.Program.Root)
                continue;
            if (!uses.TryGetValue(problem.Arguments[0], out List<SourcePlace>? places))
                uses[problem.Arguments[0]] = places = [];
            places.Add(problem.Place);
        }

        gaps =
        [
            .. result
                .Entries.Where(static e =>
                    e.Severity == Severity.Warning
                    && e.Code is DocumentCodes.MissingLines or DocumentCodes.MissingPage or DocumentCodes.UnreadPage
                    && !e.IsAboutDocument
                )
                .Select(static e => e.Line)
                .Distinct(),
        ];
    }

    /// <summary>The report with each undefined name at the place of its definition, as far as the print shows it; gives the entries that were placed.</summary>
    /// <param name="result">The recovered source.</param>
    /// <param name="lines">The lines of the listing, with what is printed in front of them.</param>
    /// <param name="leftOut">The rows that are not in the source, without the numbers in front of them.</param>
    /// <param name="rankOf">The place of a page among the pages as they are read.</param>
    public static (RecoveryResult Result, HashSet<RecoveryEntry> Placed) Place(
        RecoveryResult result,
        IReadOnlyList<ListingLine> lines,
        IReadOnlyList<(PrintedLine Line, string Text)> leftOut,
        Func<int, int> rankOf
    )
    {
        var placed = new HashSet<RecoveryEntry>(ReferenceEqualityComparer.Instance);
        if (!result.Entries.Any(IsUndefinedName))
            return (result, placed);
        var lost = new LostDefinitions(result, lines, leftOut, rankOf);
        var entries = ImmutableArray.CreateBuilder<RecoveryEntry>(result.Entries.Length);
        foreach (RecoveryEntry entry in result.Entries)
        {
            RecoveryEntry here = IsUndefinedName(entry) && lost.Placed(entry) is { } there ? there : entry;
            if (here != entry)
                placed.Add(here);
            entries.Add(here);
        }

        return (result with { Entries = entries.MoveToImmutable() }, placed);
    }

    private static bool IsUndefinedName(RecoveryEntry entry) =>
        entry.Code == Catalogue.UndefinedName.Code && entry.Severity == Severity.Error;

    private RecoveryEntry? Placed(RecoveryEntry entry)
    {
        string text = result.Source[entry.Line].Text;
        if (
            entry.EndColumn > text.Length
            || !uses.TryGetValue(text[entry.Column..entry.EndColumn], out List<SourcePlace>? places)
            // Where each line has its own entry, each is to be looked at.
            || (places.Count > 1 && entry.Related.IsEmpty)
        )
            return null;
        string name = text[entry.Column..entry.EndColumn];
        int? address = AddressOf(places);
        (int line, string why) =
            RowOf(name) is { } row ? (LineAfter(row.Line), $"the row '{row.Text.Trim()}' was left out here")
            : GapOf(address) is { } gap ? (gap, "lines are missing above this one")
            : (-1, "");
        if (line < 0)
            return null;
        string more = places.Count > MostLines ? " and others" : "",
            used = string.Join(
                ", ",
                places.Take(MostLines).Select(static p => (p.Line + 1).ToString(CultureInfo.InvariantCulture))
            ),
            at = address is { } known
                ? string.Create(CultureInfo.InvariantCulture, $" The words printed beside them put it at 0x{known:X4}.")
                : "";
        return entry with
        {
            Line = line,
            Column = 0,
            EndColumn = result.Source[line].Text.Length,
            Message =
                $"{name} is not known: its definition seems to be lost here, where {why}. {(places.Count == 1 ? "Line" : "Lines")} {used}{more} {(places.Count == 1 ? "uses" : "use")} it.{at}",
            Page = RecoveredDoubts.PageOf(result, line) ?? entry.Page,
            Related = [.. places.Select(static p => new ReportedPlace(p.Line, p.Columns.Start, p.Columns.End))],
        };
    }

    // The address that all printed words of calls and jumps to the name have, or null.
    private int? AddressOf(List<SourcePlace> places)
    {
        int? address = null;
        foreach (SourcePlace place in places)
        {
            if (
                LineOf(place.Line) is not { HasWord: true, Word: >= 0 } row
                || InstructionSet.Decode(row.Word) is not { Instruction.Operands: OperandKind.Address11 }
            )
                continue;
            int here = row.Word & AddressBits;
            if (address is { } other && other != here)
                return null;
            address = here;
        }

        return address;
    }

    private int? GapOf(int? address)
    {
        int[] fitting = address is { } wanted ? [.. gaps.Where(g => MayHold(g, wanted))] : gaps;
        return fitting.Length == 1 ? fitting[0] : null;
    }

    // By the addresses printed above and below a gap; where there are none, it may.
    private bool MayHold(int gap, int address)
    {
        int above = -1,
            below = -1;
        for (int i = gap - 1; i >= 0 && above < 0; i--)
            above = LineOf(i)?.Address ?? -1;
        for (int i = gap; i < result.Source.LineCount && below < 0; i++)
            below = LineOf(i)?.Address ?? -1;
        return (above < 0 || address > above) && (below < 0 || address < below);
    }

    private ListingLine? LineOf(int line) =>
        line < result.Origins.Length && !result.Origins[line].IsNone
            ? printed.GetValueOrDefault(result.Origins[line].Places[0])
            : null;

    // The row that has the name where a label is: alone, with a colon, or in front of an operation.
    private (PrintedLine Line, string Text)? RowOf(string name)
    {
        foreach ((PrintedLine line, string text) in leftOut)
        {
            if (!text.AsSpan().TrimStart().StartsWith(name, StringComparison.Ordinal))
                continue;
            LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(text).TrimStart());
            if (
                syntax.Label == name
                && (syntax.OperationToken < 0 ? IsLone(syntax) : syntax.OperationKind != OperationKind.Unknown)
            )
                return (line, text);
        }

        return null;
    }

    private static bool IsLone(LineSyntax syntax) =>
        syntax.EndOfCode <= Math.Max(syntax.LabelToken, syntax.ColonToken) + 1;

    // The first line of the source that is printed below a row; the last line where none is.
    private int LineAfter(PrintedLine row)
    {
        int last = 0;
        for (int i = 0; i < result.Origins.Length; i++)
        {
            if (result.Origins[i].IsNone)
                continue;
            PrintedPlace place = result.Origins[i].Places[0];
            if (rankOf(place.Page) > rankOf(row.Page) || (place.Page == row.Page && place.Line > row.Number))
                return i;
            last = i;
        }

        return last;
    }
}
