namespace AsmLsp.Pdf;

/// <summary>What a document may cost before reading it is given up.</summary>
public sealed record ReadingLimits
{
    /// <summary>The usual limits: far above any instruction leaflet or data book, far below what would harm a machine.</summary>
    public static ReadingLimits Default { get; } = new();

    /// <summary>The largest file, in bytes.</summary>
    public int FileBytes { get; init; } = 200 * 1024 * 1024;

    /// <summary>The most pages.</summary>
    public int Pages { get; init; } = 2_000;

    /// <summary>The most characters on all pages.</summary>
    public int Letters { get; init; } = 2_000_000;

    /// <summary>The most characters on one page.</summary>
    public int LettersOnPage { get; init; } = 200_000;

    /// <summary>The most bytes that one packed part of the file may unpack to.</summary>
    public long UnpackedPart { get; init; } = 64L * 1024 * 1024;

    /// <summary>The most bytes that all packed parts together may unpack to.</summary>
    public long Unpacked { get; init; } = 1024L * 1024 * 1024;

    /// <summary>The most drawing operations on one page, those of repeated parts counted each time.</summary>
    public int OperationsOnPage { get; init; } = 5_000_000;

    /// <summary>The longest time for the whole document.</summary>
    public TimeSpan Time { get; init; } = TimeSpan.FromSeconds(60);
}
