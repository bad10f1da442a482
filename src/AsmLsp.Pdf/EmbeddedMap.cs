using System.Buffers.Binary;

namespace AsmLsp.Pdf;

/// <summary>From the shapes of a TrueType font program back to the characters they mean, by its own table (OpenType specification, 'cmap').</summary>
internal sealed class EmbeddedMap
{
    // Far above the characters of any font: a broken table may name each of them many times.
    private const int MostEntries = 400_000;

    private readonly Dictionary<int, int> characters = [];
    private int entries;
    private readonly ReadOnlyMemory<byte> shapes;

    private EmbeddedMap(ReadOnlyMemory<byte> shapes) => this.shapes = shapes;

    /// <summary>Reads the table of Unicode characters; null where the program has none.</summary>
    /// <param name="program">The font program.</param>
    /// <param name="shapes">From codes to shapes, two bytes each; empty where they are the same.</param>
    public static EmbeddedMap? Of(ReadOnlySpan<byte> program, ReadOnlyMemory<byte> shapes)
    {
        int tables = U16(program, 4);
        for (int i = 0; i < tables; i++)
        {
            int entry = 12 + 16 * i;
            if (!Slice(program, entry, 4).SequenceEqual("cmap"u8))
                continue;
            var map = new EmbeddedMap(shapes);
            map.Read(Slice(program, U32(program, entry + 8), program.Length));
            return map.characters.Count > 0 ? map : null;
        }

        return null;
    }

    /// <summary>The character of a code, or null.</summary>
    public string? CharacterOf(int code)
    {
        int shape = shapes.IsEmpty ? code : U16(shapes.Span, 2 * code);
        return shape > 0 && characters.TryGetValue(shape, out int character) ? char.ConvertFromUtf32(character) : null;
    }

    private void Read(ReadOnlySpan<byte> cmap)
    {
        int count = U16(cmap, 2);
        for (int i = 0; i < count; i++)
        {
            int platform = U16(cmap, 4 + 8 * i),
                encoding = U16(cmap, 6 + 8 * i);
            // Unicode, or Windows with Unicode; others number the shapes in ways of their own.
            if (platform != 0 && (platform != 3 || encoding is not (1 or 10)))
                continue;
            ReadOnlySpan<byte> table = Slice(cmap, U32(cmap, 8 + 8 * i), cmap.Length);
            switch (U16(table, 0))
            {
                case 4:
                    ReadSegments(table);
                    break;
                case 12:
                    ReadGroups(table);
                    break;
            }
        }
    }

    private void ReadSegments(ReadOnlySpan<byte> table)
    {
        int twice = U16(table, 6) & ~1;
        for (int s = 0; s < twice && entries < MostEntries; s += 2)
        {
            int last = U16(table, 14 + s),
                first = U16(table, 16 + twice + s),
                delta = U16(table, 16 + 2 * twice + s),
                at = 16 + 3 * twice + s,
                offset = U16(table, at);
            for (int c = first; c <= last && c < 0xFFFF; c++)
            {
                int shape =
                    offset == 0 ? c + delta
                    : U16(table, at + offset + 2 * (c - first)) is var found and not 0 ? found + delta
                    : 0;
                Add(shape & 0xFFFF, c);
            }
        }
    }

    private void ReadGroups(ReadOnlySpan<byte> table)
    {
        int count = Math.Min(U32(table, 12), table.Length / 12);
        for (int g = 0; g < count && entries < MostEntries; g++)
        {
            int first = U32(table, 16 + 12 * g),
                last = U32(table, 20 + 12 * g),
                shape = U32(table, 24 + 12 * g);
            for (int c = first; c <= last && c <= 0x10FFFF && c - first < 0x10000; c++)
                Add(shape + (c - first), c);
        }
    }

    // One shape may mean several characters, a hyphen and a soft one: the first is the usual one.
    private void Add(int shape, int character)
    {
        entries++;
        if (
            shape == 0
            || character < 0x20
            || character is >= 0x7F and < 0xA0 or >= 0xD800 and < 0xE000 or >= 0xE000 and < 0xF900
        )
            return;
        if (!characters.TryGetValue(shape, out int known) || character < known)
            characters[shape] = character;
    }

    private static ReadOnlySpan<byte> Slice(ReadOnlySpan<byte> bytes, int from, int length) =>
        from < 0 || from >= bytes.Length ? [] : bytes.Slice(from, Math.Min(length, bytes.Length - from));

    private static int U16(ReadOnlySpan<byte> bytes, int at) =>
        at >= 0 && at + 2 <= bytes.Length ? BinaryPrimitives.ReadUInt16BigEndian(bytes[at..]) : 0;

    private static int U32(ReadOnlySpan<byte> bytes, int at) =>
        at >= 0 && at + 4 <= bytes.Length
            ? (int)Math.Min(int.MaxValue, BinaryPrimitives.ReadUInt32BigEndian(bytes[at..]))
            : 0;
}
