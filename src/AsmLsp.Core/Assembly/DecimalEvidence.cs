using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Finds a bare number that is read as hexadecimal while the comment beside it names the same digits as a decimal
/// number (<c>movlw 10 ; 10 times</c>). The word stays as it is: in most listings the hexadecimal reading is right.
/// </summary>
internal static class DecimalEvidence
{
    public static void Check(AssemblyPass pass, in EffectiveLine line, Expression value)
    {
        if (pass.Radix != 16 || value is not LiteralExpression { Text: var digits } || digits.Length < 2)
            return;
        if (line.Syntax.CommentToken < 0 || digits[0] == '0' || digits.AsSpan().ContainsAnyExceptInRange('0', '9'))
            return;
        if (!Names(line.Syntax.SpanOf(line.Syntax.CommentToken), digits))
            return;
        pass.Report(
            Catalogue.LooksDecimal,
            line.Place(value.Span),
            line.Via,
            digits,
            Show.Decimal(Literals.Read(digits, 16).Value)
        );
    }

    // The digits as a word of their own, without a sign that makes them hexadecimal there too (0x10, 10h, h'10', $10).
    private static bool Names(ReadOnlySpan<char> comment, string digits)
    {
        for (int from = 0; from <= comment.Length - digits.Length; )
        {
            int at = comment[from..].IndexOf(digits, StringComparison.Ordinal);
            if (at < 0)
                return false;
            at += from;
            char before = at > 0 ? comment[at - 1] : ' ';
            char after = at + digits.Length < comment.Length ? comment[at + digits.Length] : ' ';
            if (
                !char.IsLetterOrDigit(before)
                && before is not ('\'' or '$' or '_' or '#' or '.')
                && !char.IsLetterOrDigit(after)
                && after is not ('\'' or '_' or '.' or ':')
            )
                return true;
            from = at + digits.Length;
        }

        return false;
    }
}
