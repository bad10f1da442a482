using System.Diagnostics.CodeAnalysis;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Where a word of the image comes from: the line of the file, and the macro call that it went through.</summary>
public readonly record struct WordOrigin(SourceFile File, int Line, Expansion? Via)
{
    /// <summary>The line in the file where the word, or the call that made it, is; from 0.</summary>
    public (SourceFile File, int Line) Outermost =>
        Via is null ? (File, Line) : (Via.Outermost.File, Via.Outermost.Line);
}

/// <summary>The words of a program by word address, each with the source line that made it.</summary>
public sealed class ProgramImage
{
    private const int ChunkSize = 256;
    private readonly ImageCell[]?[] chunks = new ImageCell[]?[0x10000 / ChunkSize];
    private WordMemory? memory;

    internal ProgramImage() { }

    /// <summary>Number of words in the program memory proper (addresses below 0x2000).</summary>
    public int ProgramWords { get; private set; }

    /// <summary>Number of all words, configuration, ID and EEPROM words included.</summary>
    public int Count { get; private set; }

    /// <summary>The words alone, as a HEX file holds them.</summary>
    public WordMemory Memory =>
        memory ??= WordMemory.From(Words.Select(w => new KeyValuePair<int, ushort>(w.Address, w.Word)));

    /// <summary>All words in order of their addresses.</summary>
    public IEnumerable<(int Address, ushort Word, WordOrigin Origin)> Words
    {
        get
        {
            for (int c = 0; c < chunks.Length; c++)
            {
                if (chunks[c] is not { } chunk)
                    continue;
                for (int i = 0; i < ChunkSize; i++)
                    if (chunk[i].IsPresent)
                        yield return (c * ChunkSize + i, chunk[i].Word, chunk[i].Origin);
            }
        }
    }

    /// <summary>The word at an address with its origin; false where nothing was placed.</summary>
    public bool TryGet(int address, out ushort word, out WordOrigin origin)
    {
        (word, origin) = (0, default);
        if (
            address is < 0 or > 0xFFFF
            || chunks[address / ChunkSize] is not { } chunk
            || !chunk[address % ChunkSize].IsPresent
        )
            return false;
        (word, origin) = (chunk[address % ChunkSize].Word, chunk[address % ChunkSize].Origin);
        return true;
    }

    internal void Place(int address, int word, in WordOrigin origin)
    {
        ImageCell[] chunk = chunks[address / ChunkSize] ??= new ImageCell[ChunkSize];
        ref ImageCell cell = ref chunk[address % ChunkSize];
        if (!cell.IsPresent)
        {
            Count++;
            if (address < 0x2000)
                ProgramWords++;
        }

        cell = new ImageCell
        {
            Word = (ushort)word,
            IsPresent = true,
            Origin = origin,
        };
    }

    /// <summary>Takes all words out and keeps the room: the words of an earlier pass are not usable to the next.</summary>
    internal void Clear()
    {
        foreach (ImageCell[]? chunk in chunks)
            if (chunk is not null)
                Array.Clear(chunk);
        (ProgramWords, Count, memory) = (0, 0, null);
    }

    [SuppressMessage("Performance", "CA1812", Justification = "Made by array.")]
    private struct ImageCell
    {
        public ushort Word;
        public bool IsPresent;
        public WordOrigin Origin;
    }
}
