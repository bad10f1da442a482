using System.Globalization;
using System.Text;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <content>Names that are put together with numbers: <c>#v(expression)</c>.</content>
internal sealed partial class Substitution
{
    private const string Opening = "#v(";

    /// <summary>The line with each <c>#v(expression)</c> replaced by the number that it is worth.</summary>
    public EffectiveLine WithPastedNumbers(in EffectiveLine line)
    {
        string source = line.Syntax.Text;
        var text = new StringBuilder(source.Length);
        var map = new PieceMap();
        int copied = 0,
            token = 0;
        int codeEnd = line.Syntax.CodeSpan.End;
        while (
            source.AsSpan(copied, Math.Max(0, codeEnd - copied)).IndexOf(Opening, StringComparison.OrdinalIgnoreCase)
                is >= 0
                    and int offset
        )
        {
            int start = copied + offset;
            var place = new TextSpan(start, Opening.Length);
            if (IsInText(line.Syntax, start, ref token) && !KeepsOperands(line.Syntax))
            {
                pass.Report(
                    Catalogue.UnclearData,
                    line.Place(place),
                    line.Via,
                    "Printed listings do not agree on whether '#v(' is worked out inside quotes. Here the text stays as it is written."
                );
                text.Append(source, copied, start + Opening.Length - copied);
                copied = start + Opening.Length;
                continue;
            }

            int close = MatchingClose(line.Syntax, start + Opening.Length - 1, token);
            if (close < 0)
            {
                if (!KeepsOperands(line.Syntax))
                    pass.Report(Catalogue.BadExpression, line.Place(place), line.Via, "This '#v(' is never closed.");
                break;
            }

            TextSpan whole = TextSpan.FromBounds(start, close + 1);
            string digits = Digits(line, whole);
            text.Append(source, copied, start - copied);
            map.Add(text.Length, text.Length + digits.Length, whole);
            text.Append(digits);
            copied = close + 1;
        }

        if (copied == 0)
            return line;
        text.Append(source, copied, source.Length - copied);
        return Remade(line, text.ToString(), map);
    }

    // The digits to put in. They are decimal; a number by itself is then marked as such, since the base of bare numbers
    // may be another one.
    private string Digits(in EffectiveLine line, TextSpan whole)
    {
        int number = Number(line, whole);
        string digits = number.ToString(CultureInfo.InvariantCulture);
        string source = line.Syntax.Text;
        bool isPart =
            (whole.Start > 0 && Lexer.IsNamePart(source[whole.Start - 1]))
            || (whole.End < source.Length && Lexer.IsNamePart(source[whole.End]));
        if (isPart && number < 0)
            pass.Report(
                Catalogue.BadExpression,
                line.Place(whole),
                line.Via,
                $"A name cannot hold the negative number {digits}."
            );
        if (isPart || Math.Abs((long)number) < Math.Min(pass.Radix, 10))
            return digits;
        if (pass.Radix != 10 && !KeepsOperands(line.Syntax))
            pass.Report(
                Catalogue.UnclearData,
                line.Place(whole),
                line.Via,
                $"Printed listings do not agree on whether the digits of a single '#v' are decimal. Here they are: {digits}."
            );
        return number < 0 ? "-." + digits[1..] : "." + digits;
    }

    // What '#v(...)' is worth; 0 where that is in error, which is always reported.
    private int Number(in EffectiveLine line, TextSpan whole)
    {
        string inside = line.Syntax.Text[(whole.Start + Opening.Length)..(whole.End - 1)];
        var expansion = new DefineExpansion(pass.Work, defines);
        if (expansion.Of(inside) is not { } expanded)
        {
            pass.Report(Catalogue.LimitReached, line.Place(whole), line.Via, expansion.Fault!);
            if (pass.Work.IsExhausted)
                pass.StopForWork(line);
            return 0;
        }

        LineSyntax inner = LineSyntax.Parse(expanded, LineReading.NamesOnly);
        if (inner.Operands is not [var operand] || operand.Span.Length == 0 || operand.Leftover.Length > 0)
        {
            pass.Report(
                Catalogue.BadExpression,
                line.Place(whole),
                line.Via,
                $"'#v({inside.Trim()})' needs one value in its parentheses."
            );
            return 0;
        }

        // The expression is worth the same wherever it is, so all its columns are led back to the whole.
        var shifted = new PieceMap();
        shifted.Add(0, inner.Text.Length, whole);
        var place = new EffectiveLine(inner, line.File, line.Number, line.Via, shifted.Over(line.Pieces));
        return pass.Evaluate(operand.Value, place) is { IsKnown: true } value ? value.Number : 0;
    }

    private static bool KeepsOperands(LineSyntax syntax) =>
        syntax.OperationToken < 0 || Directives.DirectiveList.Find(syntax) is { KeepsOperands: true };

    // The column of the parenthesis that closes one; parentheses in quotes are characters.
    private static int MatchingClose(LineSyntax syntax, int open, int token)
    {
        int depth = 0;
        for (int i = token; i < syntax.EndOfCode; i++)
        {
            SyntaxToken at = syntax.Tokens[i];
            if (at.End <= open)
                continue;
            if (at.Start < open && at.Kind is TokenKind.Text or TokenKind.Character)
                return syntax.Text.IndexOf(')', open, at.End - open);
            if (at.Kind == TokenKind.Open)
                depth++;
            else if (at.Kind == TokenKind.Close && --depth == 0)
                return at.Start;
        }

        return -1;
    }

    private static bool IsInText(LineSyntax syntax, int column, ref int token)
    {
        while (token < syntax.Tokens.Length && syntax.Tokens[token].End <= column)
            token++;
        return token < syntax.Tokens.Length
            && syntax.Tokens[token].Start < column
            && syntax.Tokens[token].Kind is TokenKind.Text or TokenKind.Character;
    }
}
