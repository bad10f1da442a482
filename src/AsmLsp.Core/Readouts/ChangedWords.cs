namespace AsmLsp.Core.Readouts;

/// <summary>Words that another version of a program has otherwise.</summary>
/// <param name="Address">Where they start in the build.</param>
/// <param name="Removed">How many words of the build are not there.</param>
/// <param name="Added">How many words are there instead.</param>
public readonly record struct ChangedWords(int Address, int Removed, int Added)
{
    /// <summary>How many words a person has to look at.</summary>
    public int Count => Math.Max(Removed, Added);
}
