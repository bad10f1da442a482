using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Structure;

namespace AsmLsp.Ide.HexFiles;

/// <summary>The areas of a HEX file: program, ID words, configuration, EEPROM, each with its ranges.</summary>
public static class HexOutline
{
    /// <summary>The areas in the order of the chip's addresses.</summary>
    public static ImmutableArray<OutlineEntry> Of(HexFile file)
    {
        ArgumentNullException.ThrowIfNull(file);
        var entries = ImmutableArray.CreateBuilder<OutlineEntry>();
        foreach (
            IGrouping<HexArea, HexRecord> area in file
                .Reading.Records.Where(static r => r.Type == 0 && r.Length > 0 && r.ByteAddress < 0x20000)
                .OrderBy(static r => r.ByteAddress)
                .GroupBy(static r => HexAreas.Of((int)r.ByteAddress / 2))
        )
        {
            List<List<HexRecord>> ranges = Ranges(area);
            ImmutableArray<OutlineEntry> children =
            [
                .. ranges.Select(range => Entry(file, RangeName(range), null, range, [])),
            ];
            int words = file.Reading.Memory.Count(c => HexAreas.Of(c.Key) == area.Key);
            string unit = area.Key == HexArea.Eeprom ? "byte" : "word";
            entries.Add(
                Entry(
                    file,
                    NameOf(area.Key),
                    Invariant($"{words} {unit}{(words == 1 ? "" : "s")}"),
                    [.. area],
                    children
                )
            );
        }

        return entries.ToImmutable();
    }

    private static List<List<HexRecord>> Ranges(IEnumerable<HexRecord> records)
    {
        var ranges = new List<List<HexRecord>>();
        uint end = uint.MaxValue;
        foreach (HexRecord record in records)
        {
            if (record.ByteAddress != end)
                ranges.Add([]);
            ranges[^1].Add(record);
            end = record.ByteAddress + (uint)record.Length;
        }

        return ranges;
    }

    private static OutlineEntry Entry(
        HexFile file,
        string name,
        string? detail,
        List<HexRecord> records,
        ImmutableArray<OutlineEntry> children
    )
    {
        int first = records.Min(static r => r.Line) - 1,
            last = records.Max(static r => r.Line) - 1;
        return new OutlineEntry(
            name,
            children.IsEmpty ? OutlineKind.Label : OutlineKind.Section,
            detail,
            first,
            last,
            first,
            new TextSpan(0, file.Text[first].Text.Length),
            children
        );
    }

    private static string RangeName(List<HexRecord> records)
    {
        uint last = records[^1].ByteAddress + (uint)records[^1].Length - 1;
        uint first = records[0].ByteAddress / 2;
        return first == last / 2 ? Invariant($"0x{first:X4}") : Invariant($"0x{first:X4} to 0x{last / 2:X4}");
    }

    private static string NameOf(HexArea area) =>
        area switch
        {
            HexArea.Program => "Program",
            HexArea.Configuration => "Configuration",
            HexArea.Eeprom => "EEPROM",
            HexArea.Identification => "ID words",
            _ => "Other addresses",
        };

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
