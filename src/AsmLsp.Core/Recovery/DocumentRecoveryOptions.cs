using System.Collections.Immutable;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Repairs;

namespace AsmLsp.Core.Recovery;

/// <summary>What to take from a printed document.</summary>
public sealed record DocumentRecoveryOptions
{
    /// <summary>The usual: the longest listing of all pages.</summary>
    public static DocumentRecoveryOptions Default { get; } = new();

    /// <summary>Which listing, counted from 1 in the order of the document; null takes the longest, where they are not programs for different chips.</summary>
    public int? Listing { get; init; }

    /// <summary>The pages to look at, counted from 1; empty for all.</summary>
    public ImmutableHashSet<int> Pages { get; init; } = [];

    /// <summary>Whether text around and between the lines of the listing is kept in the source, as comments.</summary>
    public bool KeepProse { get; init; }

    /// <summary>What is known beside the document: name, includes, settings.</summary>
    public RecoveryOptions Text { get; init; } = RecoveryOptions.Default;
}
