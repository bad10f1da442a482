using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Readouts;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.HexFiles;

/// <summary>A problem of a HEX file.</summary>
/// <param name="Line">The line, from 0.</param>
/// <param name="Columns">The stretch of the line that it is about.</param>
/// <param name="IsError">Whether the words cannot be trusted; else it is only worth knowing.</param>
/// <param name="Message">What is wrong, for people.</param>
public sealed record HexProblem(int Line, TextSpan Columns, bool IsError, string Message);

/// <summary>A HEX file as an editor asks about it. Never changes.</summary>
public sealed class HexFile
{
    private readonly HexRecord[] byLine;

    private HexFile(SourceText text, HexReading reading, Device? device)
    {
        Text = text;
        Reading = reading;
        Device = device;
        byLine = new HexRecord[text.LineCount];
        foreach (HexRecord record in reading.Records)
            byLine[Math.Min(record.Line, byLine.Length) - 1] = record;
    }

    /// <summary>The text.</summary>
    public SourceText Text { get; }

    /// <summary>Words, records and faults; faulty records are taken as they are, so that as much as possible can be looked at.</summary>
    public HexReading Reading { get; }

    /// <summary>The chip, or null where nothing names it.</summary>
    public Device? Device { get; }

    /// <summary>Reads a HEX file.</summary>
    /// <param name="text">Its text.</param>
    /// <param name="device">The chip that the surroundings name; null takes that of a device ID in the file.</param>
    public static HexFile Of(SourceText text, Device? device)
    {
        ArgumentNullException.ThrowIfNull(text);
        HexReading reading = IntelHexReader.Read(Joined(text), isLenient: true);
        return new HexFile(text, reading, device ?? ReadoutContent.ChipOf(reading.Memory));
    }

    /// <summary>The record on a line (from 0), or null where there is none.</summary>
    public HexRecord? RecordOn(int line) =>
        line >= 0 && line < byLine.Length && byLine[line].Line > 0 ? byLine[line] : null;

    /// <summary>What is wrong with the file, and what lies beyond the chip, in order of the lines.</summary>
    public ImmutableArray<HexProblem> Problems
    {
        get
        {
            var found = new List<HexProblem>();
            foreach (HexFault fault in Reading.Faults)
            {
                int line = Math.Clamp(fault.Line - 1, 0, Text.LineCount - 1),
                    length = Text[line].Text.Length,
                    start = Math.Clamp(fault.Column - 1, 0, length);
                found.Add(new HexProblem(line, TextSpan.FromBounds(start, length), fault.IsFatal, fault.Message));
            }

            foreach (HexRecord record in Reading.Records)
            {
                if (record.Type == 0 && BeyondChip(record) is { } message)
                    found.Add(new HexProblem(record.Line - 1, DataOf(record), true, message));
            }

            return [.. found.OrderBy(static p => p.Line)];
        }
    }

    /// <summary>The columns of a record's data.</summary>
    internal static TextSpan DataOf(HexRecord record) => new(record.Column + 8, record.Length * 2);

    private string? BeyondChip(HexRecord record)
    {
        if (Device is not { } chip || record.Length == 0)
            return null;
        int last = (int)Math.Min(record.ByteAddress + (uint)record.Length - 1, int.MaxValue) / 2;
        return HexAreas.Of(last) switch
        {
            HexArea.Program when last >= chip.ProgramWords => Invariant(
                $"Program memory of {chip.Name} ends at 0x{chip.ProgramWords - 1:X4}, and this record goes to 0x{last:X4}. Is the file for another chip?"
            ),
            HexArea.Eeprom when last - HexAreas.Eeprom >= chip.EepromBytes => chip.EepromBytes == 0
                ? $"{chip.Name} has no EEPROM, and this record holds bytes for it. Is the file for another chip?"
                : Invariant(
                    $"The EEPROM of {chip.Name} has {chip.EepromBytes} bytes, and this record goes to byte {last - HexAreas.Eeprom}. Is the file for another chip?"
                ),
            HexArea.Configuration when chip.ConfigurationWords.All(w => w.Address != last) => Invariant(
                $"{chip.Name} has no configuration word at 0x{last:X4}."
            ),
            _ => null,
        };
    }

    // The reader counts lines itself: each line of the editor must stay one line.
    private static string Joined(SourceText text) => string.Join('\n', text.Lines.Select(static l => l.Text));

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
