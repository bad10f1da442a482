namespace AsmLsp.Host.Pictures;

/// <summary>What the pictures of printed lines may cost before the rest is left out.</summary>
public sealed record PictureLimits
{
    /// <summary>The usual limits: above any magazine article or kit leaflet.</summary>
    public static PictureLimits Default { get; } = new();

    /// <summary>For a hover: one page, at once or not at all.</summary>
    public static PictureLimits Hover { get; } =
        new()
        {
            Pages = 1,
            // Editors show a picture dot by dot: a line of eighty characters has to fit.
            DotsPerInch = 120,
            TimeOfPage = TimeSpan.FromSeconds(15),
            Time = TimeSpan.FromSeconds(60),
        };

    /// <summary>The most pages that are drawn.</summary>
    public int Pages { get; init; } = 100;

    /// <summary>The longest time for one page.</summary>
    public TimeSpan TimeOfPage { get; init; } = TimeSpan.FromSeconds(20);

    /// <summary>The longest time for the whole document.</summary>
    public TimeSpan Time { get; init; } = TimeSpan.FromMinutes(2);

    /// <summary>How finely pages are drawn, in dots per inch: a printed 8 and B can be distinguished.</summary>
    public int DotsPerInch { get; init; } = 200;

    /// <summary>The most dots of one page; a larger page is drawn less finely.</summary>
    public int DotsOfPage { get; init; } = 10_000_000;

    /// <summary>The largest document, in bytes.</summary>
    public int FileBytes { get; init; } = 200 * 1024 * 1024;

    /// <summary>The most bytes of all pictures of whole pages together; lines have a quarter of it besides.</summary>
    public int BytesOfPages { get; init; } = 16 * 1024 * 1024;
}
