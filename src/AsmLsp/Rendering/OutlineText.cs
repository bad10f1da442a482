using System.Globalization;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Explain.Outlines;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Pins;

namespace AsmLsp.Rendering;

/// <summary>The outline of a program for people.</summary>
internal sealed class OutlineText
{
    private const int MostBytes = 16,
        UsualWidth = 110;

    private readonly ProgramOutline outline;
    private readonly TextWriter output;

    private readonly int width;

    private OutlineText(ProgramOutline outline, TextWriter output) =>
        (this.outline, this.output, width) = (outline, output, TextTable.WidthOf(output, UsualWidth));

    /// <summary>Writes the outline.</summary>
    public static void Write(ProgramOutline outline, string name, TextWriter output) =>
        new OutlineText(outline, output).Write(name);

    private void Write(string name)
    {
        Device? device = outline.Program.Device;
        output.WriteLine(device is null ? name : $"{name}, a program for the {device.Name}");
        if (outline.Title is { } title)
            Line(1, $"\"{title}\"");
        Chip(device);
        Pins();
        Part("Start-up", outline.Start, "until the main loop ");
        Part("Main loop", outline.Loop, "a lap takes ");
        Interrupt();
        Routines();
        Variables();
        Tables();
        Eeprom();
        if (outline.Program.HasErrors)
        {
            Head("Not known");
            Line(1, "The program has errors, so its paths were not followed: 'relist check' shows them.");
        }
        else if (outline.Unknowns.Length > 0)
        {
            Head("Not known");
            foreach (string unknown in outline.Unknowns)
                Line(1, unknown);
        }
    }

    private void Chip(Device? device)
    {
        Head("Chip");
        if (device is null)
        {
            Line(1, "The program names none.");
            return;
        }

        string eeprom = device.EepromBytes > 0 ? $"; {device.EepromBytes} bytes of EEPROM" : "";
        Line(
            1,
            $"{Number(outline.UsedWords)} of {Number(device.ProgramWords)} words used; {device.DataMemory.GeneralPurposeBytes} bytes of memory{eeprom}"
        );
        Line(
            1,
            outline.Clock is { } clock
                ? $"Clock: {clock.Rate}, {Source(clock)}"
                : "Clock: not known, so times are in instruction cycles"
        );
        if (outline.Configuration is not { } configuration)
        {
            Line(1, "Configuration: none in the program");
            return;
        }

        Line(1, "Configuration: " + string.Join("; ", configuration.Fields.Select(static f => f.Field.InWords)));
    }

    private void Pins()
    {
        if (outline.Pins is not { } report)
            return;
        Head("Pins");
        var groups = report
            .Pins.Select(static p => (Pin: p, State: (p.InLoop ?? p.AfterStart ?? p.AtReset).ToString()))
            .GroupBy(static p => p.State)
            .OrderBy(static g => g.Key == "input")
            .ThenBy(static g => g.Key, StringComparer.Ordinal);
        foreach (IGrouping<string, (PinFacts Pin, string)> group in groups)
            Line(
                1,
                $"{Capital(group.Key)}: {string.Join(", ", group.Select(static p => Plain(PinExplainer.Name(p.Pin))))}"
            );
        var others = outline
            .Program.Device!.Pins.Where(pin => report.Pins.All(p => p.Package != pin))
            .Select(pin => (Pin: pin, Use: report.ConfiguredUse(pin)))
            .Where(static p => p.Use is not null)
            .GroupBy(static p => p.Use!);
        foreach (IGrouping<string, (Pin Pin, string?)> group in others)
            Line(
                1,
                $"{Capital(group.Key)}: {string.Join(", ", group.Select(static p => $"{p.Pin.Name} (pin {p.Pin.Number})"))}"
            );
    }

    private void Part(string title, OutlinePart? part, string before)
    {
        if (part is null)
            return;
        Head($"{title}, {Place(part.Line)}");
        if (part.Purpose is { } purpose)
            Line(1, $"\"{purpose}\"");
        string cycles = part.Cycles is { } counted ? $"; {before}{counted.Describe(outline.Clock)}" : "";
        Line(1, $"{Words(part.Words)}{cycles}{List("; calls ", part.Calls)}");
    }

    private void Interrupt()
    {
        Part("Interrupt", outline.Interrupt, "");
        if (outline.Interrupt is null)
            return;
        if (outline.Lost.Length > 0)
            Line(1, $"Caution: the interrupted program may find changed: {string.Join(", ", outline.Lost)}");
    }

    private void Routines()
    {
        if (outline.Routines.Length == 0)
            return;
        Head("Routines");
        foreach (OutlineRoutine routine in outline.Routines)
        {
            string purpose = routine.Purpose is { } said ? $": \"{said}\"" : "";
            Line(1, $"{routine.Name}, {Place(routine.Line)}{purpose}");
            string cycles =
                !routine.MayReturn ? "; never returns"
                : routine.Cycles is { } counted ? "; " + counted.Describe(outline.Clock)
                : "; its time cannot be counted";
            Line(
                3,
                $"{Words(routine.Words)}{cycles}{List("; called by ", routine.Callers)}{List("; calls ", routine.Calls)}"
            );
        }

        if (outline.Depth is { } depth && outline.Program.Device is { } device)
            Line(1, $"Calls are nested {depth} deep at most; the stack holds {device.StackDepth}.");
        else if (outline.Program.Device is not null)
            Line(1, "A routine comes to call itself, so how deep calls are nested is not known.");
    }

    private void Variables()
    {
        if (outline.Variables.Length == 0)
            return;
        Head("Variables");
        int longest = outline.Variables.Max(static v => v.Name.Length);
        foreach (OutlineVariable variable in outline.Variables)
        {
            string others = List(", also ", variable.OtherNames);
            string purpose = variable.Purpose is { } said ? $" \"{said}\";" : "";
            string writers =
                variable.Writers.Length == 0 ? "never written" : "written by " + string.Join(", ", variable.Writers);
            string readers =
                variable.Readers.Length == 0 ? "never read" : "read by " + string.Join(", ", variable.Readers);
            string address = string.Create(CultureInfo.InvariantCulture, $"0x{variable.Address:X2}");
            Line(1, $"{variable.Name.PadRight(longest)} {address}{others}:{purpose} {writers}; {readers}");
        }
    }

    private void Tables()
    {
        if (outline.Tables.Length == 0)
            return;
        Head("Tables");
        foreach (OutlineTable table in outline.Tables)
        {
            string content =
                table.Values.Length == table.Entries ? $"bytes: {Bytes(table.Values)}"
                : table.Targets.Length > 0 ? $"jumps to {string.Join(", ", table.Targets.Distinct())}"
                : "entries";
            Line(1, $"{table.Name}, {Place(table.Line)}: {table.Entries} {content}");
        }
    }

    private void Eeprom()
    {
        if (outline.Eeprom.Length == 0)
            return;
        Head("EEPROM");
        foreach (OutlineBytes block in outline.Eeprom)
            Line(
                1,
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"From 0x{block.Address:X2}, {Place(block.Line)}: {block.Bytes.Length} bytes: {Bytes(block.Bytes)}"
                )
            );
    }

    private static string Bytes(IReadOnlyList<int> bytes)
    {
        string text = string.Join(
            ' ',
            bytes.Take(MostBytes).Select(static b => b.ToString("X2", CultureInfo.InvariantCulture))
        );
        string more = bytes.Count > MostBytes ? " ..." : "";
        bool isText = bytes.Count > 1 && bytes.All(static b => b is >= 0x20 and < 0x7F or 0 or 0x0A or 0x0D);
        return isText
            ? $"\"{string.Concat(bytes.Take(3 * MostBytes).Select(static b => b < 0x20 ? "" : ((char)b).ToString()))}\""
            : text + more;
    }

    private void Head(string title)
    {
        output.WriteLine();
        output.WriteLine(title);
    }

    // Long lines continue below, further in.
    private void Line(int indent, string text)
    {
        string start = new(' ', 2 * indent);
        while (start.Length + text.Length > width && Break(text, width - start.Length) is > 0 and int at)
        {
            output.WriteLine(start + text[..at]);
            text = text[(at + 1)..];
            start = new string(' ', 2 * indent + 4);
        }

        output.WriteLine(start + text);
    }

    // At the end of a part of the sentence where one ends in the second half of the line, else between words.
    private static int Break(string text, int most)
    {
        for (int at = most; at > most / 2; at--)
            if (text[at] == ' ' && text[at - 1] is ',' or ';')
                return at;
        return text.LastIndexOf(' ', most);
    }

    private string Place(LinePlace place)
    {
        string line = string.Create(CultureInfo.InvariantCulture, $"line {place.Line + 1}");
        return place.File == outline.Program.Root ? line : $"{line} of {place.File.ShortName}";
    }

    private static string Source(Clock clock) =>
        clock.Source switch
        {
            ClockSource.Settings => "as the settings say",
            ClockSource.Comment => "as a comment says",
            _ => "as the configuration fixes it",
        };

    private static string List(string before, IReadOnlyCollection<string> names) =>
        names.Count == 0 ? "" : before + string.Join(", ", names);

    private static string Words(int words) => words == 1 ? "1 word" : $"{Number(words)} words";

    private static string Number(int value) => value.ToString("N0", CultureInfo.InvariantCulture);

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Plain(string text) => text.Replace("`", "", StringComparison.Ordinal);
}
