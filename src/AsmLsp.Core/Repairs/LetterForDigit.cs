using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// A letter that looks like a digit inside a number: O for 0, l or I for 1. Certain where what is there begins as no
/// name does and exactly one number is left. A capital O among hexadecimal digits may be a D as well, <c>1O</c> is also
/// octal, and <c>l0</c> or <c>B1</c> may be names whose definition was lost: these are guesses.
/// </summary>
internal sealed class LetterForDigit : PrintCheck
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.LetterForDigit];

    /// <summary>Whether a word could be a number with such a letter; a quick look at its characters.</summary>
    public static bool IsSuspicious(ReadOnlySpan<char> word, TokenKind kind)
    {
        int from = 0,
            to = word.Length;
        if (kind == TokenKind.Number)
        {
            // The letter in front of the quote is the notation.
            if (to > 1 && word[1] == '\'')
                from = 2;
            return word[from..].ContainsAny("OolI");
        }

        if (kind == TokenKind.Name && to == 1)
            return word[0] is 'O' or 'o' or 'l' or 'I';
        if (kind != TokenKind.Name || to < 2 || word[0] is not ('O' or 'o' or 'l' or 'I'))
            return false;
        bool digit = false;
        if (word[1] is 'x' or 'X' && to > 2 && word[0] is 'O' or 'o')
            (from, digit) = (2, true);
        if (word[^1] is 'h' or 'H')
        {
            to--;
            digit = true;
        }

        for (int i = from; i < to; i++)
        {
            if (char.IsAsciiDigit(word[i]))
                digit = true;
            else if (!char.IsAsciiHexDigit(word[i]) && word[i] is not ('O' or 'o' or 'l' or 'I'))
                return false;
        }

        return digit;
    }

    public override void Find(CheckedFile view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (!shape.Has(LineTraits.OddNumber) || shape.Has(LineTraits.Doubt))
                continue;
            // A name that is known is no number; most words that look like one are labels.
            bool mayBeName = (view.TroubleOf(line) & Trouble.UndefinedName) != 0;
            if (!mayBeName && !shape.Has(LineTraits.OddDigits))
                continue;
            if (view.IsExplained(line) || !view.IsRead(line))
                continue;
            LineSyntax syntax = view.Program.SyntaxOf(view.File, line);
            int radix = view.Program.FactsOf(view.File, line).Radix;
            for (int i = Math.Max(0, syntax.FirstOperandToken); i < syntax.EndOfCode; i++)
            {
                if (!IsSuspicious(syntax.SpanOf(i), syntax.Tokens[i].Kind))
                    continue;
                if (syntax.Tokens[i].Kind == TokenKind.Name && !mayBeName)
                    continue;
                string written = syntax.TextOf(i);
                if (Meant(written, syntax.Tokens[i].Kind, radix, out bool certain) is not { } meant)
                    continue;
                if (syntax.Tokens[i].Kind == TokenKind.Name && IsKnown(view.Program, written))
                    continue;
                string other = OtherOf(written, meant, radix);
                view.Report(
                    Catalogue.LetterForDigit,
                    line,
                    syntax.Tokens[i].Span,
                    line,
                    Explains.SameCharacters,
                    new Meanings(other, certain && other.Length == 0),
                    written,
                    meant
                );
            }
        }
    }

    // Another number that may be meant, or nothing, and whether the first one is certain.
    private sealed record Meanings(string Other, bool IsCertain) : ProblemFacts;

    internal override void Offer(FixRequest request)
    {
        if (request.Problem.Facts is not Meanings { Other: var other } facts)
            return;
        string meant = request.Problem.Arguments[1],
            written = request.Marked;
        bool mayBeName = !char.IsAsciiDigit(written[0]) && !written.Contains('\'', StringComparison.Ordinal);
        var doubt = Doubt.Was(written, mayBeName ? "a number, or a name whose definition is lost?" : "");
        request.Add(
            facts.IsCertain ? Certainty.Certain : Certainty.Guess,
            $"Write {meant}",
            doubt,
            request.ReplaceMarked(meant)
        );
        if (other.Length > 0)
            request.Guess($"Write {other}", Doubt.Was(written), request.ReplaceMarked(other));
    }

    // Another number that looks so on paper: a capital O among hexadecimal digits may be a D.
    private static string OtherOf(string written, string meant, int radix)
    {
        LiteralReading reading = Literals.Read(meant, radix);
        if (reading.Radix != 16 || !written.AsSpan(1).Contains('O'))
            return "";
        int from = written[1] is 'x' or 'X' or '\'' ? 2 : 1;
        string other =
            meant[..from] + string.Concat(written.Skip(from).Select((c, i) => c == 'O' ? 'D' : meant[from + i]));
        return
            Literals.Read(other, radix) is { Fault: LiteralFault.None } now
            && now.Radix == 16
            && now.Value != reading.Value
            ? other
            : "";
    }

    private static string? Meant(string written, TokenKind kind, int radix, out bool certain)
    {
        certain = true;
        int from = kind == TokenKind.Number && written.Length > 1 && written[1] == '\'' ? 2 : 0;
        string meant =
            written[..from] + written[from..].Replace('O', '0').Replace('o', '0').Replace('l', '1').Replace('I', '1');
        if (meant == written || !char.IsAsciiDigit(meant[from]))
            return null;
        if (Literals.Read(meant, radix).Fault != LiteralFault.None)
            return null;
        if (kind == TokenKind.Name)
        {
            // Most are as likely a name whose definition was lost; none is called 'Ox2F'.
            certain = written.Length > 2 && written[1] is 'x' or 'X' && written.AsSpan(2).ContainsAnyInRange('0', '9');
            return meant;
        }

        LiteralReading now = Literals.Read(written, radix);
        // '17o' is octal as it is, and a capital O after digits is the likelier slip.
        if (now.Fault == LiteralFault.None)
            certain = false;
        return now.Fault == LiteralFault.None && !(now.Notation == LiteralNotation.Octal && written[^1] == 'O') ? null
            : now.Fault is LiteralFault.None or LiteralFault.BadDigit ? meant
            : null;
    }

    private static bool IsKnown(ProgramAnalysis program, string name) =>
        program.FindSymbol(name) is not null || program.NamesDevice?.Symbols.Find(name) is not null;
}
