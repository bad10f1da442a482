using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow;

/// <summary>
/// Finds the chip's clock: what the surroundings say, else a comment <c>; clock 4 MHz</c>, else other comments that name
/// a crystal or clock with its rate (where they agree), else the rate that the configuration fixes.
/// </summary>
public static class ClockFinder
{
    private static readonly string[] Crystals = ["crystal", "xtal", "quartz", "resonator", "x-tal", "kristal", "quarz"];
    private static readonly string[] Clocks = ["clock", "clk", "fosc", "osc", "oscillator"];

    // A rate beside one of these is not the chip's clock.
    private static readonly string[] OtherClocks =
    [
        "instruction",
        "instr",
        "cycle",
        "cycles",
        "spi",
        "i2c",
        "timer",
        "timer0",
        "timer1",
        "timer2",
        "tmr0",
        "tmr1",
        "tmr2",
        "adc",
        "a/d",
        "bus",
        "baud",
        "serial",
        "sck",
        "scl",
        "output",
        "carrier",
        "pwm",
        "sample",
        "sampling",
        "divided",
        "/4",
        "fosc/4",
        "clkout",
        "not",
    ];

    /// <summary>The clock, or null where nothing says it for certain.</summary>
    /// <param name="program">The program.</param>
    /// <param name="hertz">The rate that the surroundings give, in hertz, or null.</param>
    public static Clock? Find(ProgramAnalysis program, double? hertz = null)
    {
        ArgumentNullException.ThrowIfNull(program);
        if (hertz is > 0)
            return new Clock(hertz.Value, ClockSource.Settings, false);
        if (program.Derive(static of => new CommentClock(FromComments(of))).Clock is { } reported)
            return reported;
        if (program.Device is not { } device || !IsConfigured(program, device))
            return null;
        return ConfigurationReading.Read(device, program.Image.Memory).FixedClockHertz is { } fixedRate
            ? new Clock(fixedRate, ClockSource.Chip, false)
            : null;
    }

    /// <summary>Reads a rate with its unit (<c>4 MHz</c>, <c>32.768kHz</c>, <c>20MHZ</c>, <c>4000000 Hz</c>) in hertz, or null.</summary>
    public static double? ReadRate(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return NextRate(text, 0, out _) is { } rate ? rate : null;
    }

    // Every line of the program may say the clock, and every explanation asks for it.
    private sealed record CommentClock(Clock? Clock);

    private static bool IsConfigured(ProgramAnalysis program, Device device)
    {
        foreach (ConfigurationWord word in device.ConfigurationWords)
            if (word.Field(ConfigRole.Oscillator) is not null)
                return program.Image.TryGet(word.Address, out _, out _);
        return false;
    }

    private static Clock? FromComments(ProgramAnalysis program)
    {
        Clock? found = null;
        bool agree = true;
        foreach (SourceFile file in program.Files)
        {
            foreach (TextLine line in file.Text.Lines)
            {
                int semicolon = line.Text.IndexOf(';', StringComparison.Ordinal);
                if (semicolon < 0 || line.Text.AsSpan(semicolon).IndexOf("hz", StringComparison.OrdinalIgnoreCase) < 0)
                    continue;
                if (LineSyntax.Of(line).Comment is not { } comment)
                    continue;
                if (Read(comment, out bool isExplicit) is not { } clock)
                    continue;
                if (isExplicit)
                    return clock;
                if (found is not null && Math.Abs(found.Hertz - clock.Hertz) > 0.5)
                    agree = false;
                found = found is { IsCrystal: true } ? found : clock;
            }
        }

        return agree ? found : null;
    }

    // The rate that a comment gives for the clock; explicit is the form '; clock 4 MHz'.
    internal static Clock? Read(string comment, out bool isExplicit)
    {
        isExplicit = false;
        if (NextRate(comment, 0, out int end) is not { } rate || NextRate(comment, end, out _) is not null)
            return null;
        bool crystal = false,
            clock = false;
        string? first = null;
        foreach (
            string word in comment.Split(
                [' ', '\t', ';', '=', ':', ',', '(', ')', '"', '@', '*', '-', '.', '!'],
                StringSplitOptions.RemoveEmptyEntries
            )
        )
        {
            first ??= word;
            if (Contains(OtherClocks, word))
                return null;
            crystal |= Contains(Crystals, word);
            clock |= Contains(Clocks, word);
        }

        // '4MHz/4': the rate of instruction cycles.
        if (comment.AsSpan(end).TrimStart().StartsWith("/"))
            return null;
        isExplicit = first is not null && first.Equals("clock", StringComparison.OrdinalIgnoreCase);
        return crystal || clock ? new Clock(rate, ClockSource.Comment, crystal) : null;
    }

    private static double? NextRate(string text, int from, out int end)
    {
        end = text.Length;
        for (int i = from; i < text.Length; i++)
        {
            if (
                !char.IsAsciiDigit(text[i])
                || (i > 0 && (char.IsLetterOrDigit(text[i - 1]) || text[i - 1] is '_' or '.' or ','))
            )
                continue;
            int at = i;
            while (
                at < text.Length
                && (
                    char.IsAsciiDigit(text[at])
                    || (text[at] is '.' or ',' && at + 1 < text.Length && char.IsAsciiDigit(text[at + 1]))
                )
            )
                at++;
            string digits = text[i..at].Replace(',', '.');
            i = at - 1;
            while (at < text.Length && text[at] is ' ' or '-' or '\t')
                at++;
            double factor = 1;
            if (at < text.Length && text[at] is 'M' or 'm')
                (factor, at) = (1e6, at + 1);
            else if (at < text.Length && text[at] is 'k' or 'K')
                (factor, at) = (1e3, at + 1);
            if (at + 1 >= text.Length || text[at] is not ('h' or 'H') || text[at + 1] is not ('z' or 'Z'))
                continue;
            if (at + 2 < text.Length && char.IsLetterOrDigit(text[at + 2]))
                continue;
            if (
                !double.TryParse(
                    digits,
                    NumberStyles.AllowDecimalPoint,
                    CultureInfo.InvariantCulture,
                    out double number
                )
                || number <= 0
            )
                continue;
            end = at + 2;
            return number * factor;
        }

        return null;
    }

    private static bool Contains(string[] words, string word)
    {
        foreach (string known in words)
            if (known.Equals(word, StringComparison.OrdinalIgnoreCase))
                return true;
        return false;
    }
}
