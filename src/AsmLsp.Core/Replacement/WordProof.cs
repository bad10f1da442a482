namespace AsmLsp.Core.Replacement;

/// <summary>How the words of the new program compare with those of the old one.</summary>
/// <param name="Same">Words that are the same.</param>
/// <param name="Moved">Words that differ only in the address of a register that moved.</param>
/// <param name="Jumps">Jumps and calls that lead to the same instruction at its new address.</param>
/// <param name="Values">Constants that are the new address of something that moved.</param>
/// <param name="Inserted">Words that were put in.</param>
/// <param name="Open">Words that are not proved: each has a doubt.</param>
/// <param name="IsComplete">Whether every old word has its place in the new program.</param>
public sealed record WordProof(int Same, int Moved, int Jumps, int Values, int Inserted, int Open, bool IsComplete)
{
    /// <summary>Whether the new program is the old one apart from what moved.</summary>
    public bool Holds => IsComplete && Open == 0;

    /// <summary>The same in a sentence.</summary>
    public override string ToString() =>
        FormattableString.Invariant(
            $"{(Holds ? "Proved" : "Not proved")}: {Same} words are the same, {Moved} have a register that moved, {Inserted} words are new, {Open} are not proved. {Jumps} jumps and {Values} constants follow what moved."
        );
}
