using System.Buffers.Text;

namespace AsmLsp.Pdf;

/// <summary>
/// Finds objects of a file that mean each other in a circle: a reference to a reference, a color made of itself. The PDF library
/// follows such circles until the stack is at its end, which no program survives. Pages, fonts and drawings may refer to each other in circles, and
/// the library knows these; so only values are looked at here: references, arrays, functions and streams with an alternate color.
/// </summary>
internal sealed class ReferenceLoops
{
    /// <summary>More steps from reference to reference than any file has that a person would print.</summary>
    private const int DeepestChain = 10_000;

    // What a value is, it says early; a picture's data after it are of no interest.
    private const int MostBytes = 64 * 1024;

    private readonly Dictionary<int, List<int>> references = [];

    /// <summary>Whether the objects of a file, as far as they are not packed, hold a circle.</summary>
    public bool AddFile(ReadOnlySpan<byte> file)
    {
        ReadOnlySpan<byte> mark = "obj"u8;
        for (int at = 0; file[at..].IndexOf(mark) is >= 0 and var found; )
        {
            int start = at + found + mark.Length;
            at = start;
            if (NumberBefore(file, start - mark.Length) is not { } number)
                continue;
            ReadOnlySpan<byte> text = file[start..Math.Min(file.Length, start + MostBytes)];
            Add(number, text);
            AddUnpackedStream(text);
        }

        return HasLoop();
    }

    /// <summary>Whether the objects of an unpacked stream of objects (ISO 32000-1, 7.5.7), together with those before, hold a circle.</summary>
    /// <param name="data">The unpacked data.</param>
    /// <param name="first">Where the first object begins.</param>
    public bool AddStream(ReadOnlySpan<byte> data, int first)
    {
        if (first <= 0 || first > data.Length)
            return false;
        int before = references.Count;
        ReadOnlySpan<byte> head = data[..first];
        while (Next(ref head, out int number) && Next(ref head, out int offset))
            if ((uint)offset < (uint)(data.Length - first))
                Add(number, data[(first + offset)..Math.Min(data.Length, first + offset + MostBytes)], isPacked: true);
        return references.Count > before && HasLoop();
    }

    // '12 0 obj': the number of the object, or null where 'obj' is the end of 'endobj' or of a word.
    private static int? NumberBefore(ReadOnlySpan<byte> file, int at)
    {
        int number = 0;
        foreach (bool wanted in (ReadOnlySpan<bool>)[false, true])
        {
            int end = at;
            while (end > 0 && IsBlank(file[end - 1]))
                end--;
            int start = end;
            while (start > 0 && char.IsAsciiDigit((char)file[start - 1]) && end - start < 10)
                start--;
            if (start == end || !Utf8Parser.TryParse(file[start..end], out int value, out _))
                return null;
            if (wanted)
                number = value;
            at = start;
        }

        return number;
    }

    // A stream of objects that is not packed goes through no filter.
    private void AddUnpackedStream(ReadOnlySpan<byte> text)
    {
        int data = text.IndexOf("stream"u8);
        if (
            data < 0
            || text[..data].IndexOf("/ObjStm"u8) < 0
            || text[..data].IndexOf("/Filter"u8) >= 0
            || text[..data].IndexOf("/First"u8) is not (>= 0 and var key)
        )
            return;
        ReadOnlySpan<byte> number = text[(key + "/First".Length)..];
        if (!Next(ref number, out int first))
            return;
        data += "stream".Length;
        if (data < text.Length && text[data] == '\r')
            data++;
        if (data < text.Length && text[data] == '\n')
            data++;
        AddStream(text[data..], first);
    }

    private void Add(int number, ReadOnlySpan<byte> text, bool isPacked = false)
    {
        text = SkipBlanks(text);
        if (text.IsEmpty)
            return;
        bool isArray = text[0] == '[',
            isReference = char.IsAsciiDigit((char)text[0]);
        if (!isArray && !isReference && !text.StartsWith("<<"u8))
            return;
        // The value ends at its end, or where the next object begins; packed ones have no mark of their own.
        if (!isPacked && text.IndexOf("endobj"u8) is >= 0 and var end)
            text = text[..end];
        if (text.IndexOf("stream"u8) is >= 0 and var data)
            text = text[..data];
        if (isPacked)
            text = text[..ValueEnd(text)];
        if (!isArray && !isReference && text.IndexOf("/FunctionType"u8) < 0 && text.IndexOf("/Alternate"u8) < 0)
            return;
        for (int i = 0; i < text.Length; i++)
        {
            if (
                text[i] != 'R'
                || (
                    i + 1 < text.Length
                    && !IsBlank(text[i + 1])
                    && text[i + 1] is not ((byte)']' or (byte)'/' or (byte)'>' or (byte)'<' or (byte)'[' or (byte)'(')
                )
            )
                continue;
            if (NumberBefore(text, i) is not { } to)
                continue;
            if (!references.TryGetValue(number, out List<int>? list))
                references.Add(number, list = []);
            list.Add(to);
        }
    }

    // After the brackets of an array or dictionary, or after the 'R' of a reference.
    private static int ValueEnd(ReadOnlySpan<byte> text)
    {
        int depth = 0;
        for (int i = 0; i < text.Length; i++)
        {
            if (text[i] is (byte)'[' or (byte)'<')
                depth++;
            else if (text[i] is (byte)']' or (byte)'>' && --depth <= 0)
                return i + 1;
            else if (depth == 0 && text[i] == 'R')
                return i + 1;
        }

        return text.Length;
    }

    private bool HasLoop()
    {
        var depth = new Dictionary<int, int>();
        var open = new Stack<(int Object, int Next)>();
        foreach (int start in references.Keys)
        {
            if (depth.ContainsKey(start))
                continue;
            open.Push((start, 0));
            depth[start] = 0;
            while (open.TryPop(out (int Object, int Next) at))
            {
                List<int>? to = references.GetValueOrDefault(at.Object);
                if (to is null || at.Next == to.Count)
                {
                    // Done: no way from here leads back.
                    depth[at.Object] = -1;
                    continue;
                }

                open.Push((at.Object, at.Next + 1));
                int next = to[at.Next];
                if (depth.TryGetValue(next, out int known))
                {
                    if (known >= 0)
                        return true;
                    continue;
                }

                if (!references.ContainsKey(next))
                    continue;
                if (open.Count > DeepestChain)
                    return true;
                depth[next] = open.Count;
                open.Push((next, 0));
            }
        }

        return false;
    }

    private static bool Next(ref ReadOnlySpan<byte> text, out int number)
    {
        text = SkipBlanks(text);
        bool good = Utf8Parser.TryParse(text, out number, out int used);
        text = text[used..];
        return good;
    }

    // Comments are blanks, too.
    private static ReadOnlySpan<byte> SkipBlanks(ReadOnlySpan<byte> text)
    {
        int at = 0;
        while (at < text.Length && (IsBlank(text[at]) || text[at] == '%'))
        {
            if (text[at] == '%')
                while (at < text.Length && text[at] is not ((byte)'\r' or (byte)'\n'))
                    at++;
            else
                at++;
        }

        return text[at..];
    }

    private static bool IsBlank(byte value) => value is 0 or 9 or 10 or 12 or 13 or 32;
}
