using System.CommandLine;
using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Readouts;
using AsmLsp.Host;
using AsmLsp.Host.Building;

namespace AsmLsp;

/// <summary>The words of a HEX file.</summary>
/// <param name="Memory">The words.</param>
/// <param name="IsFaulty">Whether faulty records were taken as they are: nothing that follows from the words is certain.</param>
internal sealed record ReadHexFile(WordMemory Memory, bool IsFaulty);

/// <summary>What the verbs that read a HEX file share.</summary>
internal static class HexInput
{
    public static Option<bool> LenientOption() =>
        new("--lenient")
        {
            Description = "Use faulty records as they are, and report them. Do not program a chip from such a file.",
        };

    public static Option<string?> ChecksumOption() =>
        new("--checksum")
        {
            Description = "A checksum that a programmer shows, such as 4E51, to compare too.",
            HelpName = "HEX",
        };

    /// <summary>Reads a HEX file and reports its faults; null where it cannot be used.</summary>
    public static ReadHexFile? Read(string path, TextWriter error, bool isLenient = false)
    {
        byte[] bytes;
        string? failure =
            path == Sources.Standard
                ? StandardInput.Read(static _ => FileLoader.MaxLength, out bytes)
                : FileLoader.ReadBytes(path, out bytes)?.Message;
        if (failure is not null)
        {
            error.WriteLine($"relist: {failure}");
            return null;
        }

        HexReading reading = IntelHexReader.Read(Encoding.Latin1.GetString(bytes), isLenient);
        foreach (HexFault fault in reading.Faults)
            error.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Sources.Shown(path)}:{fault.Line}:{fault.Column}: {(fault.IsFatal ? isLenient ? "warning" : "error" : "note")}: {fault.Message}"
                )
            );
        if (reading.IsUsable || isLenient)
            return new ReadHexFile(reading.Memory, !reading.IsUsable);
        error.WriteLine($"relist: {Sources.Shown(path)} could not be used. To look at it all the same, add --lenient.");
        return null;
    }

    /// <summary>The chip that a person names; false, with a message, where no such chip is known.</summary>
    public static bool TryChip(string? name, TextWriter error, out Device? device)
    {
        device = null;
        if (name is null || (device = DeviceCatalog.Find(name)) is not null)
            return true;
        string near = string.Join(", ", DeviceCatalog.Nearest(name));
        error.WriteLine(
            $"relist: no chip called {name} is known here.{(near.Length > 0 ? $" Known chips with a similar name: {near}." : " 'relist chips' lists those that are.")}"
        );
        return false;
    }

    /// <summary>The checksum that a person types; false, with a message, where it is none.</summary>
    public static bool TryChecksum(string? text, Device? device, TextWriter error, out int? value)
    {
        value = null;
        if (text is null)
            return true;
        value = ChecksumMatch.Read(text);
        if (value is null)
            error.WriteLine($"relist: --checksum takes up to four hexadecimal digits, such as 4E51; '{text}' is not.");
        else if (device is null)
            error.WriteLine("relist: --checksum needs the chip: name it with --chip.");
        return value is not null && device is not null;
    }

    /// <summary>The name of a source, by its ending.</summary>
    public static bool IsSource(string path) =>
        Path.GetExtension(path).ToLowerInvariant() is ".asm" or ".src" or ".inc";

    /// <summary>The words and the program of a source that builds without errors; null, with a message, where it does not.</summary>
    public static ProgramAnalysis? Build(string source, DiskRequest request, TextWriter error)
    {
        if (Sources.Load(source, request, error) is not { } disk)
            return null;
        ProgramAnalysis program = disk.Assemble();
        if (!program.HasErrors)
            return program;
        error.WriteLine($"relist: {Sources.Shown(source)} has errors: 'relist check' lists them.");
        return null;
    }
}
