using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// A digit that looks like a letter inside an operation, as a scan reads it: <c>got0</c>, <c>b5f</c>, <c>1ncf</c>. Taken
/// where exactly one operation is meant and the line then reads as code; always a guess.
/// </summary>
internal sealed class DigitInOperation : FixProvider
{
    private const int MostDigits = 4;

    public override ImmutableArray<ProblemKind> Answers { get; } =
    [Catalogue.UnknownOperation, Catalogue.NotAnOperation];

    internal override void Offer(FixRequest request)
    {
        string line = request.LineText;
        LineSyntax syntax = request.Syntax;
        int end = syntax.CommentToken >= 0 ? syntax.Tokens[syntax.CommentToken].Start : line.Length;
        string? meant = null;
        var place = default(TextSpan);
        // The first word, or the one after a label.
        for (int at = 0, words = 0; at < end && words < 2; words++)
        {
            while (at < end && Lexer.IsBlank(line[at]))
                at++;
            int start = at;
            while (at < end && !Lexer.IsBlank(line[at]))
                at++;
            string word = line[start..at];
            if (!word.AsSpan().ContainsAnyInRange('0', '9') || !ContainsLetter(word))
                continue;
            foreach (string candidate in Readings(word))
            {
                if (
                    OperationWords.KindOf(candidate) is not (OperationKind.Instruction or OperationKind.Directive)
                    && request.Program.FindSymbol(candidate) is not { Kind: SymbolKind.Macro }
                )
                    continue;
                if (meant is not null && meant != candidate)
                    return;
                (meant, place) = (candidate, TextSpan.FromBounds(start, at));
            }

            if (meant is not null)
                break;
        }

        if (meant is null)
            return;
        LineSyntax whole = LineSyntax.Parse(
            string.Concat(place.Start == 0 ? " " : line[..place.Start], meant, line.AsSpan(place.End))
        );
        if (OperationWords.KindOf(meant) != OperationKind.Unknown && !CodeShape.IsCode(whole))
            return;
        request.Guess(
            $"Write {meant}",
            Doubt.Was(line.Substring(place.Start, place.Length)),
            request.Edit(place.Start, place.End, meant)
        );
    }

    private static bool ContainsLetter(string word)
    {
        foreach (char c in word)
            if (char.IsAsciiLetter(c))
                return true;
        return false;
    }

    // Every word that the printed one may have been; the letters take the case of those around them.
    private static List<string> Readings(string word)
    {
        List<string> found = [word];
        bool capitals = !word.AsSpan().ContainsAnyInRange('a', 'z');
        int digits = 0;
        for (int i = 0; i < word.Length; i++)
        {
            string letters = word[i] switch
            {
                '0' => "o",
                '1' => "li",
                '5' => "s",
                '8' => "b",
                _ => "",
            };
            if (letters.Length == 0)
                continue;
            if (++digits > MostDigits)
                return [];
            var next = new List<string>(found);
            foreach (string known in found)
            foreach (char letter in letters)
                next.Add(
                    string.Concat(
                        known.AsSpan(0, i),
                        (capitals ? char.ToUpperInvariant(letter) : letter).ToString(),
                        known.AsSpan(i + 1)
                    )
                );
            found = next;
        }

        return found;
    }
}
