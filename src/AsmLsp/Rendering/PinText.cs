using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Flow.Pins;
using AsmLsp.Verbs;

namespace AsmLsp.Rendering;

/// <summary>The pins of a program as a table.</summary>
internal static class PinText
{
    private const int NamesInProgram = 2;

    private static readonly string[] Head =
    [
        ">pin",
        "name",
        "in the program",
        "at reset",
        "after start-up",
        "in the main loop",
    ];

    /// <summary>Writes the table; why there is none goes to the error stream.</summary>
    public static int Write(ProgramAnalysis program, bool asJson, TextWriter output, TextWriter error)
    {
        if (PinReport.Of(program) is not { } report)
        {
            error.WriteLine(
                program.HasErrors
                    ? "relist: the program has errors, so its pins are not known; 'relist check' shows them."
                    : "relist: the program names no chip; give it with --chip."
            );
            return ExitCodes.Unusable;
        }

        Device device = program.Device!;
        if (asJson)
        {
            VisibleWriter.Data(output).WriteLine(PinJson.Of(program, report));
            return ExitCodes.Clean;
        }

        output.WriteLine(
            $"{device.Name}{(device.Package is { } package ? $", {package}" : "; the numbers of its pins are not known")}"
        );
        output.WriteLine();
        List<string[]> rows = Rows(report, device);
        // A program that names no pin leaves a column without anything in it.
        int[] columns =
        [
            .. Enumerable.Range(0, Head.Length).Where(i => i != NamesInProgram || rows.Any(r => r[i].Length > 0)),
        ];
        TextTable.Write(
            output,
            [.. columns.Select(static i => Head[i])],
            [.. rows.Select(r => columns.Select(i => r[i]).ToArray())]
        );
        output.WriteLine();
        TextTable.Paragraph(output, "", LoopLine(program, report));
        return ExitCodes.Clean;
    }

    private static List<string[]> Rows(PinReport report, Device device)
    {
        List<string[]> rows = [];
        var done = new HashSet<string>();
        foreach (Pin pin in device.Pins)
        {
            PinFacts[] facts = [.. report.Pins.Where(p => p.Package == pin)];
            string number = pin.Number.ToString(CultureInfo.InvariantCulture);
            if (facts.Length == 0)
                rows.Add([number, string.Join(' ', pin.Functions), "", report.ConfiguredUse(pin) ?? "", "", ""]);
            foreach (PinFacts fact in facts)
            {
                done.Add(fact.Name);
                rows.Add(Row(number, string.Join(' ', pin.Functions), fact));
            }
        }

        foreach (PinFacts fact in report.Pins)
            if (!done.Contains(fact.Name))
                rows.Add(Row("", fact.Name, fact));
        return rows;
    }

    // Where the main loop is.
    private static string LoopLine(ProgramAnalysis program, PinReport report)
    {
        if (report.Loop is not { } loop)
            return report.Pins.Any(static p => p.AfterStart is not null)
                ? "There is no loop that the program never leaves; it ends in SLEEP, and the column after start-up is what holds there."
                : "No main loop was found: no loop that the program never leaves.";
        return $"The main loop begins in {Place(program, loop.Head)}; interrupts and the routines that it calls are counted in.";
    }

    private static string[] Row(string number, string name, PinFacts fact) =>
        [
            number,
            name,
            string.Join(' ', fact.Names),
            fact.AtReset.ToString(),
            fact.AfterStart?.ToString() ?? "",
            fact.InLoop?.ToString() ?? "",
        ];

    private static string Place(ProgramAnalysis program, int address)
    {
        program.Image.TryGet(address, out _, out WordOrigin origin);
        (AsmLsp.Core.Text.SourceFile file, int line) = origin.Outermost;
        string text = string.Create(CultureInfo.InvariantCulture, $"line {line + 1}");
        return file == program.Root ? text : $"{text} of {file.ShortName}";
    }
}
