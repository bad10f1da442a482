using System.Globalization;
using System.Text;

namespace AsmLsp.Documents;

/// <summary>
/// Reads rich text (the Rich Text Format of word processors, by its published specification 1.9.1): characters, paragraphs, cells. Tables of
/// fonts and styles, pictures, headers, footers, fields' instructions and hidden text are passed over.
/// </summary>
internal static class RichTextReader
{
    private const int MostDepth = 2_000;

    private static readonly HashSet<string> PassedOver = new(StringComparer.Ordinal)
    {
        "fonttbl",
        "colortbl",
        "stylesheet",
        "info",
        "pict",
        "header",
        "headerl",
        "headerr",
        "headerf",
        "footer",
        "footerl",
        "footerr",
        "footerf",
        "object",
        "fldinst",
        "listtable",
        "listoverridetable",
        "rsidtbl",
        "generator",
        "themedata",
        "colorschememapping",
        "latentstyles",
        "datastore",
        "xmlnstbl",
        "filetbl",
        "revtbl",
        "pntext",
        "pntxta",
        "pntxtb",
        "listtext",
        "bkmkstart",
        "bkmkend",
        "annotation",
        "atnid",
        "atnauthor",
        "nonshppict",
        "deleted",
    };

    public static void Read(ReadOnlySpan<byte> bytes, FlowText text)
    {
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        var state = new GroupState(1, false);
        var outer = new Stack<GroupState>();
        Encoding page = Encoding.GetEncoding(1252);
        var pending = new List<byte>();
        int skip = 0;

        void Flush()
        {
            if (pending.Count == 0)
                return;
            text.Append(page.GetString([.. pending]));
            pending.Clear();
        }

        for (int i = 0; i < bytes.Length && !text.IsTooLong; )
        {
            byte b = bytes[i];
            if (b == '{')
            {
                Flush();
                if (outer.Count >= MostDepth)
                    throw new InvalidDataException("Its groups are nested too deep.");
                outer.Push(state);
                i++;
                continue;
            }

            if (b == '}')
            {
                Flush();
                if (outer.Count == 0)
                    break;
                state = outer.Pop();
                i++;
                continue;
            }

            if (b is (byte)'\r' or (byte)'\n')
            {
                i++;
                continue;
            }

            if (b != '\\')
            {
                i++;
                if (skip > 0)
                    skip--;
                else if (!state.IsHidden)
                    pending.Add(b);
                continue;
            }

            Control control = Control.At(bytes, ref i);
            if (control.Word == "'")
            {
                if (skip > 0)
                    skip--;
                else if (!state.IsHidden)
                    pending.Add((byte)control.Number);
                continue;
            }

            Flush();
            switch (control.Word)
            {
                case "*":
                    state = state with { IsHidden = true };
                    break;
                case "ansicpg":
                    page = PageOf(control.Number) ?? page;
                    break;
                case "uc":
                    state = state with { Fallback = Math.Clamp(control.Number, 0, 100) };
                    break;
                case "u":
                    if (!state.IsHidden)
                        text.Append(((char)(ushort)control.Number).ToString());
                    skip = state.Fallback;
                    break;
                case "v":
                    state = state with { IsHidden = control.Number != 0 };
                    break;
                case "bin":
                    i = (int)Math.Min(bytes.Length, (long)i + Math.Max(0, control.Number));
                    break;
                default:
                    if (PassedOver.Contains(control.Word))
                        state = state with { IsHidden = true };
                    else if (!state.IsHidden)
                        Put(control.Word, text);
                    break;
            }
        }

        Flush();
    }

    private static void Put(string word, FlowText text)
    {
        switch (word)
        {
            case "par" or "line" or "sect" or "row":
                text.EndLine();
                break;
            case "page":
                text.EndPage();
                break;
            case "tab":
                text.Append("\t");
                break;
            case "cell" or "nestcell":
                text.Append("  ");
                break;
            case "\\" or "{" or "}":
                text.Append(word);
                break;
            case "~":
                text.Append(" ");
                break;
            case "_":
                text.Append("-");
                break;
            case "lquote" or "rquote":
                text.Append("'");
                break;
            case "ldblquote" or "rdblquote":
                text.Append("\"");
                break;
            case "endash":
                text.Append("\u2013");
                break;
            case "emdash":
                text.Append("\u2014");
                break;
            case "bullet":
                text.Append("\u2022");
                break;
        }
    }

    private static Encoding? PageOf(int number)
    {
        try
        {
            return Encoding.GetEncoding(number);
        }
        catch (Exception e) when (e is ArgumentException or NotSupportedException)
        {
            return null;
        }
    }

    // Fallback: how many characters after a \u mean it where it is not known.
    private readonly record struct GroupState(int Fallback, bool IsHidden);

    private readonly record struct Control(string Word, int Number)
    {
        /// <summary>The control at a backslash; leaves the place after it.</summary>
        public static Control At(ReadOnlySpan<byte> bytes, ref int at)
        {
            int start = ++at;
            if (start >= bytes.Length)
                return new Control("", 0);
            if (bytes[start] == '\'')
            {
                at = Math.Min(bytes.Length, start + 3);
                return new Control(
                    "'",
                    int.TryParse(
                        Encoding.ASCII.GetString(bytes[(start + 1)..at]),
                        NumberStyles.AllowHexSpecifier,
                        CultureInfo.InvariantCulture,
                        out int code
                    )
                        ? code
                        : '?'
                );
            }

            while (at < bytes.Length && char.IsAsciiLetter((char)bytes[at]) && at - start < 32)
                at++;
            if (at == start)
            {
                at++;
                // A backslash at the end of a line is a paragraph's end.
                return new Control(
                    bytes[start] is (byte)'\r' or (byte)'\n' ? "par" : ((char)bytes[start]).ToString(),
                    0
                );
            }

            string word = Encoding.ASCII.GetString(bytes[start..at]);
            int from = at;
            if (at < bytes.Length && bytes[at] == '-')
                at++;
            while (at < bytes.Length && char.IsAsciiDigit((char)bytes[at]) && at - from < 11)
                at++;
            int number =
                at > from
                && int.TryParse(
                    Encoding.ASCII.GetString(bytes[from..at]),
                    NumberStyles.AllowLeadingSign,
                    CultureInfo.InvariantCulture,
                    out int given
                )
                    ? given
                    : 1;
            if (at < bytes.Length && bytes[at] == ' ')
                at++;
            return new Control(word, number);
        }
    }
}
