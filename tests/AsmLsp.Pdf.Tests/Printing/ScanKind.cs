namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>What a scanner makes of a sheet.</summary>
/// <param name="Name">How the table names it.</param>
/// <param name="DotsPerInch">How finely it looks.</param>
/// <param name="Turn">How far the sheet lies askew, in degrees.</param>
/// <param name="Blur">The radius over which dots run into each other, in dots of 300 to the inch.</param>
/// <param name="Grain">How much the greys of single dots vary, of 255.</param>
/// <param name="Paper">The gray of the paper, of 255.</param>
public sealed record ScanKind(
    string Name,
    int DotsPerInch,
    double Turn = 0,
    double Blur = 0,
    double Grain = 0,
    int Paper = 255
)
{
    /// <summary>The kinds that the tests hold.</summary>
    public static IReadOnlyList<ScanKind> All { get; } =
    [
        new("300 dpi, clean", 300),
        new("300 dpi, grain on gray paper", 300, Blur: 0.7, Grain: 14, Paper: 235),
        new("300 dpi, askew", 300, Turn: 0.8, Blur: 0.5, Grain: 6, Paper: 245),
        new("300 dpi, blurred", 300, Blur: 2.2, Grain: 3, Paper: 240),
        new("200 dpi", 200, Turn: -0.3, Blur: 0.5, Grain: 5, Paper: 240),
        new("150 dpi", 150, Turn: 0.2, Grain: 4, Paper: 245),
    ];

    /// <summary>The name.</summary>
    public override string ToString() => Name;
}
