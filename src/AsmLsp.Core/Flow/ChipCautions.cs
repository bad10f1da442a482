using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow.Checks;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow;

/// <summary>
/// What a person should know before a chip is programmed with this program: the places where a chip, or what its
/// factory wrote into it, can be lost, and a clock that does not fit the oscillator setting.
/// </summary>
public static class ChipCautions
{
    private const double Tolerance = 1.001;
    private const int CallMask = 0x3800;
    private const int Call = 0x2000;
    private const int CallAddress = 0x07FF;

    /// <summary>The cautions of a program; none while it has errors.</summary>
    public static ImmutableArray<Problem> Find(ProgramAnalysis program)
    {
        ArgumentNullException.ThrowIfNull(program);
        if (program.HasErrors || program.Device is not { } device)
            return [];
        var report = new FlowReport();
        Calibration(program, device, report);
        Configuration(program, device, report);
        ClockFit(program, device, report);
        return report.Sorted(program);
    }

    // The factory's value for the oscillator, in the last word of program memory.
    private static void Calibration(ProgramAnalysis program, Device device, FlowReport report)
    {
        if (device.Calibration is not { } calibration)
            return;
        if (program.Image.TryGet(calibration.Address, out _, out WordOrigin own))
        {
            report.Add(
                Catalogue.CalibrationOverwritten,
                PlaceOf(program, own),
                own.Via,
                Show.Hex(calibration.Address),
                device.Name
            );
            return;
        }

        foreach ((int address, ushort word, WordOrigin origin) in program.Image.Words)
        {
            if (address >= device.ProgramWords)
                break;
            if ((word & CallMask) == Call && (word & CallAddress) == (calibration.Address & CallAddress))
                report.Add(
                    Catalogue.CalibrationCalled,
                    PlaceOf(program, origin),
                    origin.Via,
                    Show.Hex(calibration.Address),
                    device.Name,
                    calibration.Register
                );
        }
    }

    private static void Configuration(ProgramAnalysis program, Device device, FlowReport report)
    {
        if (
            SettingOf(program, device, ConfigRole.CodeProtection) is
            { Setting.State: ConfigState.On or ConfigState.Partly } code
        )
            report.Add(Catalogue.CodeProtectionOn, code.Place, null, code.Setting.Meaning);
        if (
            device.FindField(ConfigRole.FactoryTrim) is { } trim
            && SettingOf(program, device, ConfigRole.FactoryTrim) is { } place
        )
            report.Add(Catalogue.FactoryBits, place.Place, null, trim.Field.Name, device.Name);
    }

    private static void ClockFit(ProgramAnalysis program, Device device, FlowReport report)
    {
        if (SettingOf(program, device, ConfigRole.Oscillator) is not { } configured)
            return;
        BoardFacts? board = program.Options.Board;
        if (board?.Chip is { } marked && DeviceCatalog.Find(marked) is { } fitted && fitted != device)
            report.Add(Catalogue.MarkingDisagrees, configured.Place, null, board.Marking!, fitted.Name, device.Name);
        Clock? clock = board?.CrystalHertz is { } crystal
            ? new Clock(crystal, ClockSource.Settings, IsCrystal: true)
            : ClockFinder.Find(program, program.Options.ClockHertz);
        if (clock is null)
            return;
        if (configured.Setting.Oscillator is { } oscillator && OscillatorFit.Of(device, oscillator, clock) is { } why)
            report.Add(Catalogue.ClockDoesNotFit, configured.Place, null, why);
        else if (board?.HighestHertz is { } highest && clock.Hertz > highest * Tolerance)
            report.Add(
                Catalogue.ClockAboveSpeedGrade,
                configured.Place,
                null,
                board.Marking!,
                Clock.RateOf(highest),
                clock.Rate
            );
    }

    // A field of the configuration as the program itself sets it, with the place of its word in the source.
    private static (ConfigSetting Setting, SourcePlace Place)? SettingOf(
        ProgramAnalysis program,
        Device device,
        ConfigRole role
    ) =>
        device.FindField(role) is { } field
        && program.Image.TryGet(field.Word.Address, out ushort word, out WordOrigin origin)
        && field.Field.SettingFor(word) is { } setting
            ? (setting, PlaceOf(program, origin))
            : null;

    private static SourcePlace PlaceOf(ProgramAnalysis program, WordOrigin origin)
    {
        (SourceFile file, int line) = origin.Outermost;
        LineSyntax syntax = program.SyntaxOf(file, line);
        return new SourcePlace(file, line, syntax.OperandSpan.Length > 0 ? syntax.OperandSpan : syntax.CodeSpan);
    }
}
