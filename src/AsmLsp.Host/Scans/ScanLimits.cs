namespace AsmLsp.Host.Scans;

/// <summary>What the reading of pictures of pages may cost before it is given up.</summary>
public sealed record ScanLimits
{
    /// <summary>The usual limits: above any magazine article or kit leaflet.</summary>
    public static ScanLimits Default { get; } = new();

    /// <summary>The most pages that are read; the rest is reported as unread.</summary>
    public int Pages { get; init; } = 60;

    /// <summary>The longest time for one step of one page.</summary>
    public TimeSpan TimeOfPage { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>The longest time for the whole document.</summary>
    public TimeSpan Time { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>How finely pages are drawn, in dots per inch; text recognition is made for this size of letters.</summary>
    public int DotsPerInch { get; init; } = 300;

    /// <summary>The most dots of one page; a larger page is drawn less finely.</summary>
    public int DotsOfPage { get; init; } = 40_000_000;

    /// <summary>The largest file of text that the recognition may write for one page, in bytes.</summary>
    public int TextBytesOfPage { get; init; } = 16 * 1024 * 1024;

    /// <summary>The largest picture file or document, in bytes.</summary>
    public int FileBytes { get; init; } = 200 * 1024 * 1024;
}
