using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Refactorings.Parts;

namespace AsmLsp.Core.Refactorings;

/// <summary>Writes a number in another notation: hexadecimal, decimal, binary, or as the character that it means.</summary>
internal sealed class NumberNotation : RefactoringProvider
{
    public override string Name => "notation";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        if (LiteralPlace.At(request) is not { } place || place.Use is LiteralUse.Bit or LiteralUse.Destination)
            return;
        int radix = request.Facts(place.Line).Radix;
        (string Id, string What, string? Text)[] forms =
        [
            (
                "hexadecimal",
                "hexadecimal",
                "0x" + place.Value.ToString("X" + HexDigits(place), CultureInfo.InvariantCulture)
            ),
            ("decimal", "decimal", radix == 10 ? Show.Decimal(place.Value) : "." + Show.Decimal(place.Value)),
            ("binary", "binary", Binary(place)),
            ("character", "a character", Character(place)),
        ];
        foreach ((string id, string what, string? text) in forms)
        {
            if (
                text is null
                || Says(id, place.Reading, radix)
                || Literals.Read(text, radix) is not { Fault: LiteralFault.None, IsAmbiguous: false } again
                || again.Value != place.Value
            )
                continue;
            request.Add(
                id,
                $"Write {place.Text} as {what}: {text}",
                WordEffect.Same,
                () =>
                {
                    var plan = new RefactoringPlan();
                    plan.Replace(request.File, place.Line, place.Columns, text);
                    return plan;
                }
            );
        }
    }

    // Bare digits are written anew in the notation that they are read in: then they mean the same under every 'radix'. Below 8 they do so anyway.
    private static bool Says(string id, in LiteralReading reading, int radix) =>
        reading.Notation switch
        {
            LiteralNotation.Hexadecimal => id == "hexadecimal",
            LiteralNotation.Decimal => id == "decimal",
            LiteralNotation.Binary => id == "binary",
            LiteralNotation.Character => id == "character",
            LiteralNotation.Bare => id == "decimal" && (radix == 10 || reading.Value < 8),
            _ => false,
        };

    // As many digits as the number was written with, but two at least: registers and constants are bytes.
    private static int HexDigits(in LiteralPlace place)
    {
        int written = place.Reading.Radix switch
        {
            16 => Digits(place.Text),
            2 => (Digits(place.Text) + 3) / 4,
            _ => 0,
        };
        int needed =
            place.Value > 0xFFFF ? 8
            : place.Value > 0xFF ? 4
            : 2;
        return Math.Clamp(written, needed, 8);
    }

    private static string? Binary(in LiteralPlace place)
    {
        if (
            place.Value > 0xFFFF
            || place.Use is LiteralUse.Register or LiteralUse.Address or LiteralUse.Port or LiteralUse.Place
        )
            return null;
        // Words have 14 bits, bytes 8.
        int width =
            place.Value > 0x3FFF ? 16
            : place.Value > 0xFF ? 14
            : 8;
        return "b'" + Convert.ToString(place.Value, 2).PadLeft(width, '0') + "'";
    }

    private static string? Character(in LiteralPlace place) =>
        place.Use is LiteralUse.Constant or LiteralUse.Data
        && place.Value is >= ' ' and <= '~'
        && place.Value is not ('\'' or '\\')
            ? $"'{(char)place.Value}'"
            : null;

    private static int Digits(string text)
    {
        ReadOnlySpan<char> digits = text.AsSpan().TrimEnd("hHbB'");
        if (
            digits.Length > 1
            && (digits[1] is 'x' or 'X' or '\'' || (digits[0] == '0' && digits[1] is 'b' or 'B' && digits.Length > 2))
        )
            digits = digits[2..];
        return digits.Length;
    }
}
