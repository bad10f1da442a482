using AsmLsp.Core.Repairs;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>One way in which a program comes to be on paper.</summary>
/// <param name="Printer">Who makes the PDF file.</param>
/// <param name="Damage">What happens to the text before.</param>
public sealed record Printing(IPrinter Printer, DamageKind Damage)
{
    /// <summary>Every kind by each printer, and the kinds together that magazines, leaflets and exported pages have.</summary>
    public static IEnumerable<Printing> All
    {
        get
        {
            foreach (IPrinter printer in Printers.All)
            {
                foreach (DamageKind kind in Enum.GetValues<DamageKind>())
                    yield return new Printing(printer, kind);
                foreach (DamageKind kinds in Usual)
                    yield return new Printing(printer, kinds);
            }
        }
    }

    /// <summary>Kinds that come together.</summary>
    public static IReadOnlyList<DamageKind> Usual { get; } =
    [
        DamageKind.HeadersAndFooters | DamageKind.WrappedLines | DamageKind.ShortPages | DamageKind.RaggedColumns,
        DamageKind.HeadersAndFooters
            | DamageKind.TwoColumns
            | DamageKind.Hyphenation
            | DamageKind.TypographicCharacters,
        DamageKind.HeadersAndFooters | DamageKind.ProportionalFont | DamageKind.TypographicCharacters,
        DamageKind.LineNumbers | DamageKind.AddressesAndWords | DamageKind.ShortPages,
        DamageKind.LostBlanks | DamageKind.HeadersAndFooters | DamageKind.WrappedLines,
    ];

    /// <summary>The PDF file of a program.</summary>
    /// <param name="source">The program.</param>
    /// <param name="wordOf">See <see cref="Sheets.Of"/>.</param>
    public byte[] Pdf(string source, Func<int, (int Address, int Word)?>? wordOf = null) =>
        Printer.Print(Sheets.Of(source, Damage, wordOf));

    /// <summary>The printer and the kinds.</summary>
    public override string ToString() => $"{Printer.Name}: {Damage}";
}
