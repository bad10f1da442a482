using System.Globalization;

namespace AsmLsp.Core.Flow;

/// <summary>A delay that somebody asks for, in time or in instruction cycles.</summary>
/// <param name="Seconds">The time; null where cycles are given.</param>
/// <param name="Count">The cycles; null where a time is given.</param>
public sealed record DelayRequest(double? Seconds, long? Count)
{
    private const int PeriodsOfCycle = 4;

    private static readonly (string Unit, double Seconds)[] Units =
    [
        ("ns", 1e-9),
        ("us", 1e-6),
        ("µs", 1e-6),
        ("μs", 1e-6),
        ("usec", 1e-6),
        ("µsec", 1e-6),
        ("microseconds", 1e-6),
        ("ms", 1e-3),
        ("msec", 1e-3),
        ("milliseconds", 1e-3),
        ("s", 1),
        ("sec", 1),
        ("second", 1),
        ("seconds", 1),
        ("min", 60),
        ("minute", 60),
        ("minutes", 60),
    ];

    // Words of comments that ask for a delay, in the languages of printed programs.
    private static readonly HashSet<string> Words = new(StringComparer.OrdinalIgnoreCase)
    {
        "delay",
        "wait",
        "waits",
        "pause",
        "warten",
        "warte",
        "pausa",
        "attendre",
        "attente",
        "espera",
        "esperar",
        "retardo",
        "ritardo",
        "attesa",
    };

    /// <summary>Reads <c>1ms</c>, <c>2.5 s</c>, <c>20 µs</c>, <c>3 min</c> or <c>100 cycles</c>; null for anything else.</summary>
    public static DelayRequest? Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string plain = text.Trim();
        return Next(plain, 0, out int end) is { } found && end == plain.Length ? found : null;
    }

    /// <summary>The delay that a comment asks for: one of the words for it, and the one duration; null where it does not.</summary>
    public static DelayRequest? OfComment(string comment)
    {
        ArgumentNullException.ThrowIfNull(comment);
        bool asks = false;
        foreach (string word in comment.Split([' ', '\t', ';', ':', '=', ',', '.', '(', ')', '-', '*']))
            asks |= Words.Contains(word);
        if (!asks)
            return null;
        for (int i = 0; i < comment.Length; i++)
        {
            bool begins =
                char.IsAsciiDigit(comment[i])
                && (i == 0 || !(char.IsLetterOrDigit(comment[i - 1]) || comment[i - 1] == '.'));
            if (
                begins
                && Next(comment, i, out int end) is { } found
                && (end == comment.Length || !char.IsLetterOrDigit(comment[end]))
            )
                return found;
        }

        return null;
    }

    /// <summary>The whole cycles nearest to the request; null where a time is asked for and the clock is not known.</summary>
    public long? Cycles(Clock? clock)
    {
        if (Count is { } count)
            return count;
        return clock is not null && Seconds is { } seconds
            ? (long)Math.Min(Math.Round(seconds * clock.Hertz / PeriodsOfCycle), long.MaxValue / 2)
            : null;
    }

    /// <summary>For people: <c>1 ms at 4 MHz = 1,000 cycles</c>, and how far that is off where it is not exact.</summary>
    public string Describe(Clock? clock)
    {
        long cycles = Cycles(clock) ?? 0;
        string count = cycles.ToString("N0", CultureInfo.InvariantCulture) + (cycles == 1 ? " cycle" : " cycles");
        if (Seconds is not { } seconds)
            return clock is null ? count : $"{count} = {clock.Time(cycles)} at {clock.Rate}";
        double off = (clock!.Seconds(cycles) - seconds) / seconds;
        string error =
            Math.Abs(off) < 1e-9
                ? ""
                : string.Create(
                    CultureInfo.InvariantCulture,
                    $", {Math.Abs(off) * 100:0.####} % too {(off > 0 ? "long" : "short")}: no whole number of cycles is nearer"
                );
        return $"{Clock.Time(seconds)} at {clock.Rate} = {count}{error}";
    }

    private static DelayRequest? Next(string text, int from, out int end)
    {
        end = from;
        while (end < text.Length && (char.IsAsciiDigit(text[end]) || text[end] == '.'))
            end++;
        if (
            !double.TryParse(
                text.AsSpan(from, end - from),
                NumberStyles.AllowDecimalPoint,
                CultureInfo.InvariantCulture,
                out double number
            )
            || number <= 0
        )
            return null;
        while (end < text.Length && text[end] is ' ' or '\t')
            end++;
        int start = end;
        while (end < text.Length && char.IsLetter(text[end]))
            end++;
        string unit = text[start..end];
        if (unit is "cycle" or "cycles")
            return number == Math.Floor(number) && number < long.MaxValue / 2
                ? new DelayRequest(null, (long)number)
                : null;
        foreach ((string name, double seconds) in Units)
            if (unit.Equals(name, StringComparison.OrdinalIgnoreCase))
                return new DelayRequest(number * seconds, null);
        return null;
    }
}
