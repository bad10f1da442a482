using System.Collections.Frozen;

namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>
/// Lines of a mail, a forum or a page that read as a label with something after it: <c>Posts: 214</c>, <c>Figure 3. Circuit</c>. They become comments,
/// unless the program uses their first word.
/// </summary>
internal static class PageRemarks
{
    // Fields of mails (RFC 5322, 3.6) and what forums write beside a message: common practice.
    private static readonly FrozenSet<string> Fields = FrozenSet.Create(
        StringComparer.OrdinalIgnoreCase,
        [
            "From",
            "To",
            "Cc",
            "Date",
            "Sent",
            "Subject",
            "Reply-To",
            "Message-ID",
            "Posted",
            "Posts",
            "Joined",
            "Location",
            "Registered",
            "Member since",
            "Last edited by",
            "Thread",
            "Rank",
            "Betreff",
            "Datum",
            "Von",
            "An",
            "De",
            "Fecha",
            "Asunto",
        ]
    );

    // Words in front of the number of a picture, a table or a listing, in the languages of hobby magazines: common practice.
    private static readonly FrozenSet<string> Captions = FrozenSet.Create(
        StringComparer.OrdinalIgnoreCase,
        [
            "Figure",
            "Fig",
            "Table",
            "Tab",
            "Listing",
            "Photo",
            "Picture",
            "Image",
            "Diagram",
            "Example",
            "Program",
            "Abbildung",
            "Abb",
            "Bild",
            "Tabelle",
            "Figura",
            "Tabla",
            "Tabella",
            "Tableau",
            "Foto",
            "Programa",
            "Programm",
            "Rysunek",
            "Rys",
            "Obr",
        ]
    );

    /// <summary>Makes comments of them.</summary>
    public static string? Comment(string[] lines)
    {
        HashSet<string>? used = null;
        string? first = null;
        bool isHead = true;
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i].Trim();
            if (line.Length == 0)
                continue;
            string word = WordOf(line);
            bool isRemark = (isHead && IsField(line)) || (Captions.Contains(word) && IsNumbered(line[word.Length..]));
            // Fields are above the text and nowhere else.
            isHead = isHead && (isRemark || line[0] != ';');
            if (!isRemark)
                continue;
            used ??= WordsAfterFirst(lines);
            if (used.Contains(word))
                continue;
            first ??= line;
            lines[i] = "; " + lines[i].TrimStart();
        }

        return first is null ? null : $"Lines about the page became comments: '{first}'.";
    }

    private static string WordOf(string line)
    {
        int end = 0;
        while (end < line.Length && char.IsLetter(line[end]))
            end++;
        return line[..end];
    }

    private static bool IsField(string line)
    {
        int colon = line.IndexOf(':', StringComparison.Ordinal);
        return colon > 0 && colon + 1 < line.Length && line[colon + 1] == ' ' && Fields.Contains(line[..colon]);
    }

    // ' 3', '. 2:', ' 5-2: ...', ' 1 (continued)': no operation is a number.
    private static bool IsNumbered(string rest)
    {
        int at = 0;
        if (at < rest.Length && rest[at] == '.')
            at++;
        if (at >= rest.Length || rest[at] != ' ')
            return false;
        while (at < rest.Length && rest[at] == ' ')
            at++;
        int start = at;
        while (at < rest.Length && (char.IsAsciiDigit(rest[at]) || (at > start && rest[at] is '-' or '.')))
            at++;
        if (at == start)
            return false;
        ReadOnlySpan<char> after = rest.AsSpan(at).Trim();
        return rest[at - 1] is '.' or '-'
            || after.IsEmpty
            || after[0] is ':' or '(' or ')' or '-' or '\u2013' or '\u2014';
    }

    // What a line has after its first word may name the label of another line.
    private static HashSet<string> WordsAfterFirst(string[] lines)
    {
        var words = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (string line in lines)
        {
            string code = line[..PasteCleaner.CodeEnd(line)];
            string trimmed = code.Trim();
            if (IsField(trimmed) || Captions.Contains(WordOf(trimmed)))
                continue;
            int at = 0;
            bool isFirst = true;
            while (at < code.Length)
            {
                int start = at;
                while (at < code.Length && (char.IsLetterOrDigit(code[at]) || code[at] == '_'))
                    at++;
                if (at > start)
                {
                    if (!isFirst)
                        words.Add(code[start..at]);
                    isFirst = false;
                }
                else
                    at++;
            }
        }

        return words;
    }
}
