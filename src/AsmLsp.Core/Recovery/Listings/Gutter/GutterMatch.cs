namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>What the numbers of one row are.</summary>
internal sealed class GutterMatch
{
    /// <summary>The line number, or -1.</summary>
    public int Number { get; set; } = -1;

    /// <summary>Which of the row's numbers is the line number, or -1.</summary>
    public int NumberCell { get; set; } = -1;

    /// <summary>The address, or -1.</summary>
    public int Address { get; set; } = -1;

    /// <summary>The words, mostly after the address.</summary>
    public List<int> Words { get; } = [];

    /// <summary>Whether a value is there that is no word.</summary>
    public bool HasValue { get; set; }

    /// <summary>How many of the row's numbers belong to the gutter.</summary>
    public int Taken { get; set; }

    /// <summary>How well the numbers continue with those above.</summary>
    public int Score { get; set; }
}
