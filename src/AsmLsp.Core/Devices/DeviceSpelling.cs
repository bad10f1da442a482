using System.Globalization;

namespace AsmLsp.Core.Devices;

/// <summary>A chip's name taken apart: <c>pic16lf628a-04/p</c> is family 16, technology F, number 628A, with a marking.</summary>
internal readonly record struct DeviceSpelling(string Family, string Technology, string Number, bool HasMarking)
{
    /// <summary>The name as the catalog has it.</summary>
    internal string Name => "PIC" + Family + Technology + Number;

    /// <summary>The name of the chip that is the same but for a shunt regulator, or null.</summary>
    internal string? Unregulated => Technology == "HV" ? "PIC" + Family + "F" + Number : null;

    /// <summary>The number without the letters after it.</summary>
    internal int Digits =>
        int.Parse(
            Number.AsSpan().TrimEnd("ABCDEFGHIJKLMNOPQRSTUVWXYZ"),
            NumberStyles.None,
            CultureInfo.InvariantCulture
        );

    /// <summary>Takes a spelling apart; false where it has no form of a chip's name.</summary>
    internal static bool TryParse(string? text, out DeviceSpelling spelling)
    {
        spelling = default;
        if (text is null)
            return false;
        ReadOnlySpan<char> rest = text.AsSpan().Trim();
        if (rest.StartsWith("PIC", StringComparison.OrdinalIgnoreCase))
            rest = rest[3..].TrimStart(" -");
        else if (rest.StartsWith("P", StringComparison.OrdinalIgnoreCase))
            rest = rest[1..];

        if (rest.Length < 4 || !char.IsAsciiDigit(rest[0]) || !char.IsAsciiDigit(rest[1]))
            return false;
        string family = rest[..2].ToString();
        rest = rest[2..];

        int letters = 0;
        while (letters < rest.Length && char.IsAsciiLetter(rest[letters]))
            letters++;
        string? technology = rest[..letters].ToString().ToUpperInvariant() switch
        {
            "F" or "LF" => "F",
            "HV" => "HV", // adds a shunt regulator; what is not known by itself is as in the F part
            "C" or "LC" => "C",
            "CR" or "LCR" => "CR", // mask-programmed: known by its form, but nothing to program
            "CE" or "LCE" => "CE",
            _ => null,
        };
        rest = rest[letters..];
        int length = 0;
        while (length < rest.Length && char.IsAsciiDigit(rest[length]))
            length++;
        if (technology is null || length is < 2 or > 5)
            return false;
        int digits = length;
        while (length < rest.Length && char.IsAsciiLetter(rest[length]) && length < digits + 2)
            length++;
        string number = rest[..length].ToString().ToUpperInvariant();
        rest = rest[length..].Trim();
        if (!rest.IsEmpty && !IsMarking(rest))
            return false;
        spelling = new DeviceSpelling(family, technology, number, !rest.IsEmpty);
        return true;
    }

    /// <summary>How many characters must be put in, taken out or changed to make one name of the other.</summary>
    internal static int Distance(in DeviceSpelling a, in DeviceSpelling b)
    {
        string from = a.Technology + a.Number,
            to = b.Technology + b.Number;
        var row = new int[to.Length + 1];
        for (int j = 0; j <= to.Length; j++)
            row[j] = j;
        for (int i = 1; i <= from.Length; i++)
        {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j <= to.Length; j++)
            {
                int changed = diagonal + (from[i - 1] == to[j - 1] ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.Min(changed, Math.Min(row[j], row[j - 1]) + 1);
            }
        }

        return row[to.Length];
    }

    // A speed grade, a temperature range and a package in the ways they are printed: -04/P, -20I/SP, -04P, -I/P, /JW, -04.
    private static bool IsMarking(ReadOnlySpan<char> rest)
    {
        if (rest[0] == '-')
        {
            rest = rest[1..];
            int digits = Count(rest, char.IsAsciiDigit);
            rest = rest[digits..];
            int letters = Count(rest, char.IsAsciiLetter);
            bool temperature = letters == 1 && char.ToUpperInvariant(rest[0]) is 'I' or 'E';
            if (digits > 2 || letters > 3 || (digits == 0 && !temperature))
                return false;
            rest = rest[letters..];
            if (rest.IsEmpty)
                return true;
        }

        return rest[0] == '/'
            && rest.Length is >= 2 and <= 4
            && Count(rest[1..], char.IsAsciiLetter) == rest.Length - 1;
    }

    private static int Count(ReadOnlySpan<char> text, Func<char, bool> which)
    {
        int count = 0;
        while (count < text.Length && which(text[count]))
            count++;
        return count;
    }
}
