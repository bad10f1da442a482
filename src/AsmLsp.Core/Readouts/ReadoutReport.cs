using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Readouts;

/// <summary>What a read-out is, for people: the verdict, then each area with its differences in groups.</summary>
public static class ReadoutReport
{
    private const int WordsOfGroup = 4;

    /// <summary>Writes a comparison.</summary>
    /// <param name="output">Where to.</param>
    /// <param name="comparison">The comparison.</param>
    /// <param name="names">What the build and the read-out are called.</param>
    /// <param name="program">The program of the build, for the lines concerned, or null.</param>
    /// <param name="showAll">Whether every word is shown, and not the groups alone.</param>
    /// <param name="shown">How a path of a source is written; null for its name alone.</param>
    public static void Write(
        TextWriter output,
        ReadoutComparison comparison,
        (string Build, string Readout) names,
        ProgramAnalysis? program,
        bool showAll,
        Func<string, string>? shown = null
    )
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(comparison);
        var lines = new SourceLines(program, shown ?? (static path => path[(path.LastIndexOfAny(['/', '\\']) + 1)..]));
        output.WriteLine(comparison.Verdict.Sentence);
        if (comparison.Areas.IsEmpty)
            return;
        output.WriteLine();
        foreach (AreaComparison area in comparison.Areas)
        {
            string match = Phrase(area.Matching, Unit(area.Area), "match", "matches");
            string differ = Phrase(area.Differing, Unit(area.Area), "differ", "differs");
            output.WriteLine(
                $"{AreaName(area.Area), -14} {string.Join(", ", ((string[])[match, differ]).Where(static t => t.Length > 0))}"
            );
            if (!showAll && !comparison.Verdict.IsComparable)
                continue;
            if (
                !showAll
                && area.Area == HexArea.Program
                && comparison.Verdict.Changes.Any(static c => c.Added != c.Removed)
            )
            {
                WriteChanges(output, comparison.Verdict.Changes, lines);
                continue;
            }

            foreach (DifferenceGroup group in area.Groups)
                WriteGroup(output, group, names, lines, comparison.Device, showAll);
        }

        if (!showAll && !comparison.Verdict.IsComparable && comparison.Differences.Length > 0)
            output.WriteLine("To see every word, add --all.");
    }

    // Where words were inserted, all that follow moved: addresses alone would make each of them a difference.
    private static void WriteChanges(TextWriter output, ImmutableArray<ChangedWords> changes, SourceLines lines)
    {
        foreach (ChangedWords change in changes)
        {
            string what =
                change.Removed == 0 ? $"{Count(change.Added, "word")} inserted"
                : change.Added == 0 ? $"{Count(change.Removed, "word")} removed"
                : $"{Count(change.Removed, "word")} replaced by {Count(change.Added, "word")}";
            output.WriteLine(Text($"  0x{change.Address:X4}  {what}{lines.Of(change.Address)}"));
        }
    }

    /// <summary>Writes what a file holds by itself.</summary>
    public static void Write(TextWriter output, ReadoutContent content)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(content);
        output.WriteLine(content.Verdict.Sentence);
        foreach (string note in content.Notes)
            output.WriteLine($"Caution: {note}");
        output.WriteLine();
        if (content.Device is { } chip)
            Row(output, "chip", chip.Name);
        Row(
            output,
            "program",
            content.ProgrammedWords == 0
                ? "no word programmed"
                : Text(
                    $"{Count(content.ProgrammedWords, "word")} programmed, the last at 0x{content.LastProgrammed:X4}"
                )
        );
        foreach ((int address, ushort word) in content.Memory)
        {
            if (HexAreas.Of(address) == HexArea.Configuration)
                Row(output, "configuration", Text($"0x{word:X4} at 0x{address:X4}"));
        }

        if (content.Device is { } device && content.Memory.Any(c => HexAreas.Of(c.Key) == HexArea.Configuration))
        {
            foreach ((_, DecodedField field) in ConfigurationReading.Read(device, content.Memory).Fields)
                output.WriteLine($"                 {field.Field.Name}: {field.Meaning}");
        }

        if (content.EepromBytes > 0)
            Row(output, "EEPROM", $"{Count(content.EepromBytes, "byte")} programmed");
        string id = string.Join(
            " ",
            content
                .Memory.Where(c => HexAreas.Of(c.Key) == HexArea.Identification)
                .Select(c => c.Value.ToString("X4", CultureInfo.InvariantCulture))
        );
        if (id.Length > 0)
            Row(output, "ID words", id);
        if (content.DeviceId is { } identity)
            Row(output, "device ID", Text($"0x{identity:X4}"));
    }

    /// <summary>Compares a typed checksum with those of a memory; gives whether one matches.</summary>
    public static bool WriteChecksum(TextWriter output, int typed, Device device, WordMemory memory, string name)
    {
        ArgumentNullException.ThrowIfNull(output);
        ArgumentNullException.ThrowIfNull(device);
        ImmutableArray<ChecksumCase> cases = ChecksumMatch.CasesOf(device, memory);
        ChecksumCase[] matching = [.. cases.Where(c => c.Value == typed)];
        if (cases.IsEmpty)
            output.WriteLine(
                Text($"Checksum {typed:X4}: no rule is known for {device.Name}, so it could not be compared.")
            );
        else if (matching is [{ IsSelected: true }, ..])
            output.WriteLine(Text($"Checksum {typed:X4}: that is the checksum of {name}."));
        else if (matching.Length > 0)
            output.WriteLine(
                Text(
                    $"Checksum {typed:X4}: that is the checksum of {name} with another protection: {matching[0].Protection}."
                )
            );
        else
            output.WriteLine(
                Text(
                    $"Checksum {typed:X4}: {name} gives {string.Join(", ", cases.Select(static c => Text($"{c.Value:X4} ({c.Protection})")))}."
                )
            );
        return matching is [{ IsSelected: true }, ..];
    }

    /// <summary>The name of an area for people.</summary>
    public static string AreaName(HexArea area) =>
        area switch
        {
            HexArea.Program => "program",
            HexArea.Configuration => "configuration",
            HexArea.Eeprom => "EEPROM",
            HexArea.Identification => "ID words",
            _ => "other",
        };

    /// <summary>The name of a kind of difference for people.</summary>
    public static string KindName(DifferenceKind kind) =>
        kind switch
        {
            DifferenceKind.OnlyInFirst => "not in the read-out",
            DifferenceKind.OnlyInSecond => "not in the build",
            DifferenceKind.Operand => "other operand",
            DifferenceKind.Instruction => "other instruction",
            DifferenceKind.DontCareBits => "only bits that the chip ignores",
            DifferenceKind.Configuration => "configuration",
            DifferenceKind.UnusedConfigurationBits => "only configuration bits that the chip lacks",
            DifferenceKind.Identification => "ID word",
            DifferenceKind.Eeprom => "EEPROM byte",
            DifferenceKind.Calibration => "calibration word: expected",
            DifferenceKind.FactoryBits => "factory bits: expected",
            _ => "unexpected address",
        };

    // An erased word is no instruction, although it could be read as one.
    private static string Manner(Difference word) =>
        word.Kind is DifferenceKind.Instruction or DifferenceKind.Eeprom
        && MemoryComparison.IsErased(word.Address, word.Second)
            ? "erased in the read-out"
            : KindName(word.Kind);

    private static void WriteGroup(
        TextWriter output,
        DifferenceGroup group,
        (string Build, string Readout) names,
        SourceLines lines,
        Device? device,
        bool showAll
    )
    {
        if (!showAll && group.Words.Length > WordsOfGroup)
        {
            string kinds = string.Join(
                ", ",
                group
                    .Words.GroupBy(Manner)
                    .OrderByDescending(static g => g.Count())
                    .Select(static g => $"{g.Count()} {g.Key}")
            );
            output.WriteLine(
                Text($"  0x{group.First:X4}-0x{group.Last:X4}  {kinds}{lines.Of(group.First, group.Last)}")
            );
            return;
        }

        foreach (Difference word in group.Words)
        {
            output.WriteLine(
                Text(
                    $"  0x{word.Address:X4}  {Manner(word)}: {names.Build} {Word(word, word.First)}, {names.Readout} {Word(word, word.Second)}{lines.Of(word.Address)}"
                )
            );
        }

        if (HexAreas.Of(group.First) != HexArea.Configuration || device is null)
            return;
        WordMemory One(Func<Difference, ushort?> side) =>
            WordMemory.From(
                group.Words.Where(w => side(w) is not null).Select(w => KeyValuePair.Create(w.Address, side(w)!.Value))
            );
        if (group.Words.All(static w => w.First is not null && w.Second is not null))
        {
            foreach (
                ConfigurationDifference field in ConfigurationDifference.Of(
                    device,
                    One(static w => w.First),
                    One(static w => w.Second)
                )
            )
                output.WriteLine($"          {field.Sentence}");
        }
    }

    private static string Word(Difference difference, ushort? word)
    {
        if (word is not { } value)
            return "has nothing";
        string hex = value.ToString("X4", CultureInfo.InvariantCulture);
        return HexAreas.Of(difference.Address) == HexArea.Program && InstructionSet.Decode(value) is { } decoded
            ? $"{hex} ({InstructionText.Of(decoded)})"
            : hex;
    }

    private static void Row(TextWriter output, string name, string value) => output.WriteLine($"  {name, -14} {value}");

    private static string Phrase(int count, string unit, string many, string one) =>
        count == 0 ? "" : $"{Count(count, unit)} {(count == 1 ? one : many)}";

    private static string Unit(HexArea area) => area == HexArea.Eeprom ? "byte" : "word";

    private static string Count(int count, string unit) => Text($"{count} {unit}{(count == 1 ? "" : "s")}");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    // The source lines of words, where the program is known.
    private sealed class SourceLines(ProgramAnalysis? program, Func<string, string> shown)
    {
        public string Of(int address) =>
            Origin(address) is { } origin ? Of(origin.File, origin.Line, origin.File.Text[origin.Line].Text) : "";

        private string Of(SourceFile file, int line, string text) =>
            Text($"  {shown(file.Name)}:{line + 1}:{text.Length - text.TrimStart().Length + 1}: {text.Trim()}");

        public string Of(int first, int last) =>
            Origin(first) is { } start && Origin(last) is { } end && start.File == end.File && start.Line != end.Line
                ? Text($"{Of(first)} (to line {end.Line + 1})")
                : Of(first);

        private WordOrigin? Origin(int address) =>
            program is not null && program.Image.TryGet(address, out _, out WordOrigin origin) ? origin : null;
    }
}
