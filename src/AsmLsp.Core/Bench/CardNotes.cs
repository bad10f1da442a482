using System.Collections.Immutable;

namespace AsmLsp.Core.Bench;

/// <summary>Sentences that all forms of the card share.</summary>
public static class CardNotes
{
    /// <summary>The columns of the record of a batch; the first one counts the boards.</summary>
    public static ImmutableArray<string> BatchColumns { get; } =
    ["board", "label", "blank", "verify", "checksum", "probes", "result", "who"];

    /// <summary>Whether a column of the batch is ticked, not written in.</summary>
    public static bool IsTick(string column) => column is "blank" or "verify" or "probes";

    /// <summary>The second line of a label.</summary>
    public static string LabelText(BenchCard card)
    {
        ArgumentNullException.ThrowIfNull(card);
        string chip = card.Device.Name.Replace("PIC", "", StringComparison.Ordinal);
        return card.Checksum is { } sum ? BenchCard.Text($"{chip} · {sum:X4}") : chip;
    }

    /// <summary>What a person must know before the chip is programmed.</summary>
    public static ImmutableArray<string> Warnings(BenchCard card)
    {
        ArgumentNullException.ThrowIfNull(card);
        var warnings = ImmutableArray.CreateBuilder<string>();
        if (card.Subject.Doubts > 0)
            warnings.Add(
                BenchCard.Text(
                    $"{card.Subject.Doubts} open doubt{(card.Subject.Doubts == 1 ? "" : "s")} in the source: a word may not be what the author meant. Resolve {(card.Subject.Doubts == 1 ? "it" : "them")} before you program a chip."
                )
            );
        if (card.Subject.Warnings > 0)
            warnings.Add(
                BenchCard.Text(
                    $"{card.Subject.Warnings} warning{(card.Subject.Warnings == 1 ? "" : "s")} in the source: relist check lists {(card.Subject.Warnings == 1 ? "it" : "them")}."
                )
            );
        if (card.Device.IsOneTimeProgrammable)
            warnings.Add($"{card.Device.Name} in a plastic package can be programmed once only.");
        return warnings.ToImmutable();
    }

    /// <summary>How what is to be seen after programming was computed.</summary>
    public static string OfRuns(BenchCard card)
    {
        ArgumentNullException.ThrowIfNull(card);
        string modules = card.StartUp.Modules.IsEmpty
            ? ""
            : $" Used and not computed: {string.Join(", ", card.StartUp.Modules)}.";
        return BenchCard.Text(
            $"Computed by {card.StartUp.Runs} runs of the program over {card.Time(card.StartUp.Cycles)} each: all inputs high, all low, each one that it looks at low alone, and two contents of memory. Ports, Timer 0 and reads of the EEPROM are computed. Times count from the first instruction.{modules}"
        );
    }
}
