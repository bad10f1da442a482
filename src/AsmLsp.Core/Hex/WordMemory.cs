using System.Collections;
using System.Diagnostics.CodeAnalysis;

namespace AsmLsp.Core.Hex;

/// <summary>
/// The words of a chip by word address, sparse and immutable: what a HEX file holds, what a build makes.
/// Addresses run from 0 to 0xFFFF (program from 0, ID words at 0x2000, configuration at 0x2007, EEPROM at 0x2100);
/// a cell is 16 bits wide as in the file, of which a chip uses 14.
/// </summary>
[SuppressMessage("Naming", "CA1710", Justification = "A memory is the trade's word, not a collection of pairs.")]
public sealed class WordMemory : IEnumerable<KeyValuePair<int, ushort>>
{
    private readonly int[] addresses;
    private readonly ushort[] words;

    private WordMemory(int[] addresses, ushort[] words) => (this.addresses, this.words) = (addresses, words);

    /// <summary>A memory without any word.</summary>
    public static WordMemory Empty { get; } = new([], []);

    /// <summary>How many words are present.</summary>
    public int Count => addresses.Length;

    /// <summary>The word at a word address, or null where nothing is stored.</summary>
    public ushort? this[int address]
    {
        get
        {
            int at = Array.BinarySearch(addresses, address);
            return at >= 0 ? words[at] : null;
        }
    }

    /// <summary>Makes a memory from words in any order; a later word at the same address replaces the earlier one.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An address is outside 0..0xFFFF.</exception>
    public static WordMemory From(IEnumerable<KeyValuePair<int, ushort>> cells)
    {
        ArgumentNullException.ThrowIfNull(cells);
        var addresses = new List<int>();
        var words = new List<ushort>();
        foreach ((int address, ushort word) in cells)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(address, nameof(cells));
            ArgumentOutOfRangeException.ThrowIfGreaterThan(address, 0xFFFF, nameof(cells));
            // Nearly always in order: only what is not is searched for.
            int at =
                addresses.Count == 0 || address > addresses[^1] ? ~addresses.Count : addresses.BinarySearch(address);
            if (at >= 0)
            {
                words[at] = word;
                continue;
            }

            addresses.Insert(~at, address);
            words.Insert(~at, word);
        }

        return new WordMemory([.. addresses], [.. words]);
    }

    /// <summary>The words in rising order of their addresses.</summary>
    public IEnumerator<KeyValuePair<int, ushort>> GetEnumerator()
    {
        for (int i = 0; i < addresses.Length; i++)
            yield return new KeyValuePair<int, ushort>(addresses[i], words[i]);
    }

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}
