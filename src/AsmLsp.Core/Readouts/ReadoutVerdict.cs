using System.Collections.Immutable;

namespace AsmLsp.Core.Readouts;

/// <summary>What a read-out is, in the sense of what a person does next.</summary>
public enum VerdictKind
{
    /// <summary>The file holds no word at all.</summary>
    NoWords,

    /// <summary>Every word is erased.</summary>
    Blank,

    /// <summary>Every program word reads 0: a protected chip.</summary>
    AllZero,

    /// <summary>The configuration turns code protection on: the words do not show the content.</summary>
    Protected,

    /// <summary>A program (when one file is looked at alone).</summary>
    Program,

    /// <summary>This is the build.</summary>
    SameBuild,

    /// <summary>The build as far as programming went.</summary>
    Stopped,

    /// <summary>The build as far as the file goes: it holds no word from some address on.</summary>
    Shortened,

    /// <summary>Only the configuration differs.</summary>
    ConfigurationDiffers,

    /// <summary>Only the EEPROM differs.</summary>
    EepromDiffers,

    /// <summary>The program is the same; several other areas differ.</summary>
    AreasDiffer,

    /// <summary>Only what the factory sets differs.</summary>
    FactoryDiffers,

    /// <summary>The same program, one version apart.</summary>
    OtherVersion,

    /// <summary>Another program.</summary>
    OtherProgram,

    /// <summary>A read-out of another chip type.</summary>
    OtherChip,

    /// <summary>The same words, shifted.</summary>
    Shifted,

    /// <summary>The two bytes of each word are swapped.</summary>
    BytesSwapped,

    /// <summary>One half of each word only.</summary>
    OneHalf,
}

/// <summary>The verdict about a read-out.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Sentence">The same for people, with what to do about it.</param>
public sealed record ReadoutVerdict(VerdictKind Kind, string Sentence)
{
    /// <summary>Where another version of the program differs, words that only moved left out; empty for every other verdict.</summary>
    public ImmutableArray<ChangedWords> Changes { get; init; } = [];

    /// <summary>Whether the words can be compared one by one: where not, each differs for one reason, and a list of them says nothing.</summary>
    public bool IsComparable =>
        Kind
            is not (
                VerdictKind.NoWords
                or VerdictKind.Blank
                or VerdictKind.AllZero
                or VerdictKind.Protected
                or VerdictKind.OtherProgram
                or VerdictKind.Shifted
                or VerdictKind.BytesSwapped
                or VerdictKind.OneHalf
            );

    /// <summary>The word for scripts, such as <c>bytes-swapped</c>.</summary>
    public string Code =>
        string.Concat(
            Kind.ToString()
                .Select((c, i) => char.IsUpper(c) ? (i > 0 ? "-" : "") + char.ToLowerInvariant(c) : c.ToString())
        );
}
