using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly;

/// <summary>What a name that is not known was most likely meant as: the nearest known one, said as a question.</summary>
internal static class Hints
{
    /// <summary>A sentence to put after the message about an unknown name, with a blank before it; or nothing.</summary>
    public static string ForName(string name, AssemblyPass pass)
    {
        if (IsHexDigits(name))
            return $" If the hexadecimal number is meant, write 0x{name.TrimEnd('h', 'H')}.";
        if (Separated(name, pass) is { } pair)
            return pair;
        if (pass.Symbols.TryGet(name, out Symbol? define) && define.Kind == SymbolKind.Define)
            return pass.Substitution.IsDefined(name) ? " Its define has no text."
                : pass.Symbols.IsDefinedSoFar(name) ? " Its define was ended by '#undefine' above."
                : $" Its define comes later, in line {define.Definition.Line + 1}. It counts only after that line.";
        if (pass.HintsLeft-- <= 0)
            return "";
        IEnumerable<string> known = pass
            .Symbols.All.Where(s => s.Kind is not (SymbolKind.Macro or SymbolKind.External))
            .Select(s => s.Name)
            .Concat(pass.Chip.Names.Where(n => MayStandFor(name, n)));
        return Nearest(name, known) is { } near ? $" Is {near} meant?" : "";
    }

    /// <summary>For a line that the author put where no choice fits: the names that choose, with a blank before; or nothing.</summary>
    public static string ForStoppedChoice(AssemblyPass pass)
    {
        IReadOnlyList<string> names = pass.Conditions.Deciders;
        return names.Count == 0
            ? ""
            : $" The choice around this line depends on {string.Join(", ", names.Take(12))}. Define one, for example with '--define {names[0]}'.";
    }

    /// <summary>The same for an unknown operation.</summary>
    public static string ForOperation(string name, AssemblyPass pass)
    {
        if (pass.Symbols.FindByAnyCase(name) is { Kind: SymbolKind.Macro } later)
            return $" A macro of that name comes later, in line {later.Definition.Line + 1}. Move it above this line.";
        if (pass.HintsLeft-- <= 0)
            return "";
        IEnumerable<string> known = OperationWords.All.Concat(
            pass.Symbols.All.Where(s => s.Kind == SymbolKind.Macro).Select(s => s.Name)
        );
        return Nearest(name, known) is { } near ? $" Is {near} meant?" : "";
    }

    /// <summary>
    /// Whether a built-in name may be offered for an unknown one. The end of a configuration setting says what it does:
    /// '_WDT_OF' may be '_WDT_OFF' but '_BODEN' is neither '_BODEN_ON' nor '_BODEN_OFF'.
    /// </summary>
    public static bool MayStandFor(string name, string builtIn)
    {
        if (builtIn.Length == 0 || builtIn[0] != '_')
            return true;
        if (name.Length == 0 || name[0] != '_')
            return false;
        if (HasNo(name) != HasNo(builtIn))
            return false;
        string wanted = Ending(name),
            offered = Ending(builtIn);
        if (!IsSwitch(offered))
            return !IsSwitch(wanted) && name.Length > 3;
        return wanted.Equals(offered, StringComparison.OrdinalIgnoreCase)
            || (
                wanted.Equals("OF", StringComparison.OrdinalIgnoreCase)
                && offered.Equals("OFF", StringComparison.OrdinalIgnoreCase)
            );
    }

    // '_INTRC_OSC_NOCLKOUT' against '_INTRC_OSC_CLKOUT'.
    private static bool HasNo(string name) => name.Contains("_NO", StringComparison.OrdinalIgnoreCase);

    private static string Ending(string name) => name[(name.LastIndexOf('_') + 1)..];

    private static bool IsSwitch(string ending) => ending.ToUpperInvariant() is "ON" or "OFF" or "EN" or "DIS" or "ALL";

    // 'STATUS.RP0': a dot where the comma belongs.
    private static string? Separated(string name, AssemblyPass pass)
    {
        int dot = name.LastIndexOf('.');
        if (dot <= 0 || dot == name.Length - 1)
            return null;
        string following = name[(dot + 1)..];
        bool isPair =
            pass.Symbols.TryGet(following, out Symbol? _)
            || pass.Chip.Knows(following)
            || int.TryParse(following, out int _);
        return isPair ? $" Is {name[..dot]},{following} meant, with a comma?" : null;
    }

    /// <summary>Whether a name could be a hexadecimal number whose leading 0 is missing.</summary>
    public static bool IsHexDigits(string name)
    {
        ReadOnlySpan<char> digits = name.AsSpan().TrimEnd("hH");
        if (digits.IsEmpty || digits.Length > 8 || digits.Length + 1 < name.Length)
            return false;
        foreach (char c in digits)
            if (!char.IsAsciiHexDigit(c))
                return false;
        return true;
    }

    /// <summary>
    /// The known word with the fewest letters to change, at most a third of them; null where there is none, or where
    /// two are as near. Case does not count.
    /// </summary>
    public static string? Nearest(string name, IEnumerable<string> known)
    {
        int limit = Math.Max(1, name.Length / 3);
        string? best = null;
        bool tie = false;
        uint letters = Letters(name);
        foreach (string candidate in known)
        {
            if (Math.Abs(candidate.Length - name.Length) > limit)
                continue;
            // Letters that only one of the two has are as many changes at least: most names are put aside by that.
            uint others = Letters(candidate);
            if (int.PopCount((int)(letters & ~others)) > limit || int.PopCount((int)(others & ~letters)) > limit)
                continue;
            int distance = Distance(name, candidate, limit);
            if (distance > limit)
                continue;
            if (distance == limit && best is not null)
            {
                tie = !best.Equals(candidate, StringComparison.OrdinalIgnoreCase);
                continue;
            }

            (best, tie) = (candidate, false);
            if (distance == 0)
                return best;
            limit = distance;
        }

        return tie ? null : best;
    }

    // Which letters occur, a bit each; digits and signs share the rest.
    private static uint Letters(string word)
    {
        uint letters = 0;
        foreach (char c in word)
            letters |=
                1u
                << (
                    char.IsAsciiLetter(c) ? (c & 0x1F) - 1
                    : char.IsAsciiDigit(c) ? 26 + (c & 3)
                    : 30
                );
        return letters;
    }

    // Letters to replace, insert, remove or swap, up to a limit.
    private static int Distance(string a, string b, int limit)
    {
        Span<int> before = stackalloc int[b.Length + 1];
        Span<int> row = stackalloc int[b.Length + 1];
        Span<int> next = stackalloc int[b.Length + 1];
        for (int j = 0; j <= b.Length; j++)
            row[j] = j;
        for (int i = 1; i <= a.Length; i++)
        {
            next[0] = i;
            int least = i;
            for (int j = 1; j <= b.Length; j++)
            {
                bool same = char.ToLowerInvariant(a[i - 1]) == char.ToLowerInvariant(b[j - 1]);
                next[j] = Math.Min(Math.Min(next[j - 1], row[j]) + 1, row[j - 1] + (same ? 0 : 1));
                if (
                    i > 1
                    && j > 1
                    && char.ToLowerInvariant(a[i - 1]) == char.ToLowerInvariant(b[j - 2])
                    && char.ToLowerInvariant(a[i - 2]) == char.ToLowerInvariant(b[j - 1])
                )
                    next[j] = Math.Min(next[j], before[j - 2] + 1);
                least = Math.Min(least, next[j]);
            }

            if (least > limit)
                return limit + 1;
            Span<int> spare = before;
            before = row;
            row = next;
            next = spare;
        }

        return row[b.Length];
    }
}
