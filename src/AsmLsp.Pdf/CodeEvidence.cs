using System.Text;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Pdf;

/// <summary>What speaks for it that the codes of a font are the letters of its text: the words that they make.</summary>
internal sealed class CodeEvidence(FontFace font)
{
    // Widths that differ by less than this part are one width, as files round them.
    private const double SameWidth = 0.02;

    // The widths of two fonts that are one differ by less than this part.
    private const double NearWidth = 0.03;

    // A font whose characters can nearly all be read is read.
    private const double NearlyAll = 0.97;

    // Enough to judge by, for any document.
    private const int MostLetters = 50_000;

    // Words of the language that no other order of letters gives.
    private const int OperationsOfProgram = 4;

    // Of ten thousand letters of prose in European languages, these are some 55 to 65 in a hundred (common practice); in letters put in
    // another order, about 30.
    private const string Frequent = "eainorts";
    private const int LettersOfProse = 60;

    private readonly Dictionary<int, (double Least, double Most)> widths = [];
    private readonly Dictionary<int, int> counts = [];
    private readonly HashSet<string> operations = new(StringComparer.OrdinalIgnoreCase);
    private readonly StringBuilder word = new();
    private int all,
        letters,
        frequent,
        words,
        vowelless,
        shortest = int.MaxValue;
    private bool isEnded;
    private int before = -1;
    private int oldLigatures,
        newLigatures;
    private bool? isText;

    public FontFace Font => font;

    /// <summary>The width of its characters, where it has one.</summary>
    public double Width { get; private set; }

    /// <summary>Whether all its letters are equally wide, and among them are such as differ elsewhere.</summary>
    public bool IsMonospaced
    {
        get
        {
            double least = widths.Values.Min(static w => w.Least),
                most = widths.Values.Max(static w => w.Most);
            return most - least < SameWidth * most
                && "ijltfrI".Any(c => widths.ContainsKey(c))
                && "mwMWABCDGHNOQU".Any(c => widths.ContainsKey(c));
        }
    }

    /// <summary>Whether the words are those of a program, or of prose.</summary>
    public bool IsText => isText ??= Judge();

    /// <summary>Whether there is nothing but digits, of which a lone 0 could be a sign of a formula.</summary>
    public bool IsDigits =>
        counts.Keys.All(static c => c is >= '0' and <= '9') && (counts.Count > 1 || !counts.ContainsKey('0'));

    /// <summary>Whether it is a heading, or a few remarks: some words that can be spoken.</summary>
    public bool IsFewWords
    {
        get
        {
            End();
            if (!counts.Keys.All(static c => c is >= 0x20 and < 0x7F))
                return false;
            return (letters >= 4 && vowelless == 0 && shortest >= 3)
                || (letters >= 20 && words >= 4 && vowelless <= 0.15 * words && frequent >= 0.45 * letters);
        }
    }

    /// <summary>Whether there is nothing but the upright quotes and the star, which text fonts of TeX take from a companion font (TS1).</summary>
    public bool IsUprightSigns => counts.Keys.All(static c => c is '\'' or '`' or '*');

    public void Add(int code, double width, double size, bool continues)
    {
        if (!continues)
            End();
        all++;
        counts[code] = counts.GetValueOrDefault(code) + 1;
        Width = width;
        double part = size > 0 ? width / size : width;
        widths[code] = widths.TryGetValue(code, out (double Least, double Most) w)
            ? (Math.Min(w.Least, part), Math.Max(w.Most, part))
            : (part, part);
        if (isEnded)
            return;
        isEnded = all > MostLetters;
        bool isLetter = code < 0x7F && char.IsAsciiLetter((char)code);
        if (isLetter && word.Length > 0)
        {
            if (before is >= 0x0B and <= 0x0F)
                oldLigatures++;
            if (before is >= 0x1B and <= 0x1F)
                newLigatures++;
        }

        before = code;
        // A joined shape or a letter with an accent is a part of its word, and may be its vowel.
        if (isLetter)
            word.Append((char)code);
        else if (code is (>= 0x0B and <= 0x0F) or (>= 0x19 and <= 0x1F) or >= 0x80)
            word.Append('\u00E9');
        else
            End();
    }

    /// <summary>Whether a character of this font has a width in points, to a part that print rounds off.</summary>
    public bool HasWidth(double points) => Math.Abs(points - Width) < NearWidth * Width;

    /// <summary>What the codes mean.</summary>
    public Func<int, string?> Reading()
    {
        if (IsMonospaced)
            return IsT1
                ? static code => TexCharacters.InMonospaced(code) ?? (code >= 0x80 ? TexCharacters.InT1(code) : null)
                : TexCharacters.InMonospaced;
        if (IsT1)
            return TexCharacters.InT1;
        if (oldLigatures > 0)
            return code => TexCharacters.InOT1(code) ?? ByWidth(code);
        return code => TexCharacters.InAll(code) ?? ByWidth(code);
    }

    // Only this table has a second half; its joined letters are where the older one has whole ones that few languages use.
    private bool IsT1 =>
        font.Names.AreCodes
        && (counts.Keys.Any(static c => c >= 0x80) || (newLigatures > 0 && oldLigatures == 0 && letters > 200));

    // Both signs of comparison are as wide as the sign of equality, and the turned marks that the older table has there are not.
    // The low line has a width of its own where it is none of the accents, which lie over a letter.
    private string? ByWidth(int code)
    {
        if (
            code is '<' or '>'
            && widths.TryGetValue('=', out (double Least, double Most) equal)
            && widths.TryGetValue(code, out (double Least, double Most) own)
            && Math.Abs(equal.Most - own.Most) < SameWidth * own.Most
        )
            return ((char)code).ToString();
        return code == '_' && counts.GetValueOrDefault('_') > 0 && operations.Count >= OperationsOfProgram ? "_" : null;
    }

    private bool Judge()
    {
        End();
        int printed = counts
            .Where(static c => c.Key is > 0x20 and < 0x7F or >= 0x80 or (>= 0x0B and <= 0x1F))
            .Sum(static c => c.Value);
        if (printed < NearlyAll * all)
            return false;
        if (operations.Count >= OperationsOfProgram)
            return true;
        return letters >= LettersOfProse && words >= 10 && vowelless <= 0.15 * words && frequent >= 0.5 * letters;
    }

    private void End()
    {
        before = -1;
        if (word.Length == 0)
            return;
        string text = word.ToString();
        word.Clear();
        shortest = Math.Min(shortest, text.Length);
        foreach (char c in text)
        {
            if (!char.IsAsciiLetter(c))
                continue;
            letters++;
            if (Frequent.Contains(char.ToLowerInvariant(c), StringComparison.Ordinal))
                frequent++;
        }

        if (text.Length >= 3)
        {
            words++;
            if (
                !text.Any(static c => char.ToLowerInvariant(c) is 'a' or 'e' or 'i' or 'o' or 'u' or 'y' or >= '\u0080')
            )
                vowelless++;
            if (operations.Count < 100 && OperationWords.KindOf(text) != OperationKind.Unknown)
                operations.Add(text);
        }
    }
}
