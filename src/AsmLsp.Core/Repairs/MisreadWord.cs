using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// A word that was read wrongly from a picture: <c>bef</c> for <c>bcf</c>, <c>retum</c> for <c>return</c>, <c>STATU5</c>.
/// Taken where exactly one known word looks so; certain where that is an operation or a name of the chip and nothing else is
/// near. A name of the program's own, or the call of a macro in a file that is not there, may be another whose definition was lost.
/// </summary>
internal sealed class MisreadWord : FixProvider
{
    // Two characters that melt into one, and what they become (measured, as the sets of GlyphConfusion).
    private static readonly (string Read, string Meant)[] Melted =
    [
        ("m", "rn"),
        ("m", "rr"),
        ("w", "vv"),
        ("vv", "w"),
        ("VV", "W"),
        ("rn", "m"),
        ("d", "cl"),
        ("cl", "d"),
        ("u", "tr"),
        ("et", "cf"),
    ];

    public override ImmutableArray<ProblemKind> Answers { get; } =
    [Catalogue.UnknownOperation, Catalogue.UndefinedName];

    internal override void Offer(FixRequest request)
    {
        string word = request.Marked;
        if (word.Length < 2 || request.Problem.Arguments[0] != word)
            return;
        bool operation = request.Problem.Kind == Catalogue.UnknownOperation;
        // Digits in operations have a repair of their own.
        if (operation ? word.AsSpan().ContainsAnyInRange('0', '9') : Hints.IsHexDigits(word))
            return;
        IEnumerable<string> known = operation
            ? Operations(request.Program)
                .Where(o => OperationWords.KindOf(o) != OperationKind.Instruction || ReadsAsCode(request, o))
            : Names(request.Program);
        string[] all = [.. known];
        if (Only(word, all, operation) is { } meant)
        {
            bool isCertain =
                !MayBeMisread(request.Program, meant)
                && HasEvidence(request.Program, operation, word, meant)
                && IsCertain(word, meant, all);
            if (isCertain || operation)
                request.Add(
                    isCertain ? Certainty.Certain : Certainty.Guess,
                    $"Write {meant}",
                    Doubt.Was(word),
                    request.ReplaceMarked(meant)
                );
            else
                request.GuessName(NameGuess.LooksAlike, meant, Doubt.Was(word));
        }
        else if (!operation && Sum(word, all) is { } sum)
            request.Guess($"Write {sum}", Doubt.Was(word), request.ReplaceMarked(sum));
        else if (!operation && Number(word, request.Program.FactsOf(request.File, request.Line).Radix) is { } number)
            request.Guess($"Write {number}", Doubt.Was(word), request.ReplaceMarked(number));
    }

    // Of a definition and the one line that needs it, either may be the misread one.
    private static bool MayBeMisread(ProgramAnalysis program, string name) =>
        program.FindSymbol(name) is { IsReferenced: false, Kind: not SymbolKind.Macro };

    // A known operation, where no file with macros is missing; a name of the chip; a name of the program that 'countl' beside
    // 'count1' is not.
    private static bool HasEvidence(ProgramAnalysis program, bool operation, string word, string meant)
    {
        if (operation)
            return OperationWords.KindOf(meant) != OperationKind.Unknown
                && !program.Problems.Any(static p => p.Kind == Catalogue.IncludeMissing);
        if (program.FindSymbol(meant) is null)
            return true;
        return word.Length == meant.Length && word[^1] == meant[^1];
    }

    // A digit for its letter, or the reverse, where nothing else is known by that shape; other look-alikes, where nothing else is near at all.
    private static bool IsCertain(string word, string meant, string[] known)
    {
        if (word.Length < 3 || word.Length != meant.Length)
            return false;
        bool digits = true;
        for (int i = 0; i < word.Length; i++)
            digits &=
                word[i] == meant[i]
                || (IsDigitShape(word[i]) && IsDigitShape(meant[i]) && GlyphConfusion.Alike(word[i], meant[i]));
        // 'GPI' may be GP1 as well as GPIO without its last letter.
        if (
            digits
            && word.AsSpan().ContainsAny('l', 'I', 'i')
            && Array.Exists(
                known,
                k => k.Length == word.Length + 1 && k.StartsWith(word, StringComparison.OrdinalIgnoreCase)
            )
        )
            return false;
        return digits
            || !Array.Exists(
                known,
                k =>
                    !k.Equals(meant, StringComparison.OrdinalIgnoreCase)
                    && Math.Abs(k.Length - word.Length) <= 1
                    && WordDistance.Of(k, word) <= 1
            );
    }

    private static bool IsDigitShape(char c) => c is '0' or 'O' or 'o' or '1' or 'l' or 'I' or 'i';

    // 'limittl' is 'limit+1' where a plus was read as a t.
    private static string? Sum(string word, string[] known)
    {
        if (word.Length < 3 || word[^2] != 't' || word[^1] is not ((>= '0' and <= '9') or 'l' or 'I'))
            return null;
        return Array.IndexOf(known, word[..^2]) < 0
            ? null
            : $"{word[..^2]}+{(char.IsAsciiDigit(word[^1]) ? word[^1] : '1')}";
    }

    // 'OAO' has no digit at all, and begins like a number.
    private static string? Number(string word, int radix)
    {
        if (word[0] is not ('O' or 'o' or 'l' or 'I'))
            return null;
        string number = word.Replace('O', '0').Replace('o', '0').Replace('l', '1').Replace('I', '1');
        return Literals.Read(number, radix).Fault == LiteralFault.None ? number : null;
    }

    /// <summary>The one known word that a misread one may be, or null.</summary>
    internal static string? Only(string word, IEnumerable<string> known, bool anyCase)
    {
        string? only = null;
        string[] readings = [word, .. Melts(word)];
        foreach (string name in known)
        {
            string candidate = anyCase && !word.AsSpan().ContainsAnyInRange('a', 'z') ? name.ToUpperInvariant() : name;
            foreach (string reading in readings)
            {
                // A melted reading is exactly; a plain one differs by look-alikes.
                bool fits = ReferenceEquals(reading, word)
                    ? candidate != word
                        && GlyphConfusion.MayBe(word, candidate, static _ => true)
                        && !candidate.Equals(word, StringComparison.OrdinalIgnoreCase)
                    : reading.Equals(
                        candidate,
                        anyCase ? StringComparison.OrdinalIgnoreCase : StringComparison.Ordinal
                    );
                if (!fits || candidate == only)
                    continue;
                if (only is not null)
                    return null;
                only = candidate;
            }
        }

        return only;
    }

    private static IEnumerable<string> Melts(string word)
    {
        foreach ((string read, string meant) in Melted)
            for (
                int at = word.IndexOf(read, StringComparison.Ordinal);
                at >= 0;
                at = word.IndexOf(read, at + 1, StringComparison.Ordinal)
            )
                yield return string.Concat(word.AsSpan(0, at), meant, word.AsSpan(at + read.Length));
    }

    private static IEnumerable<string> Operations(ProgramAnalysis program) =>
        OperationWords.All.Concat(
            program.Symbols.Where(static s => s.Kind == SymbolKind.Macro).Select(static s => s.Name)
        );

    private static IEnumerable<string> Names(ProgramAnalysis program)
    {
        IEnumerable<string> own = program
            .Symbols.Where(static s => s.Kind is not (SymbolKind.Macro or SymbolKind.External))
            .Select(static s => s.Name);
        return program.NamesDevice is { } device
            ? own.Concat(device.Symbols.All.Select(static s => s.Name)).Distinct(StringComparer.Ordinal)
            : own;
    }

    private static bool ReadsAsCode(FixRequest request, string meant)
    {
        int start = request.Problem.Place.Columns.Start;
        string line = request.LineText;
        int operands = LineSyntax
            .Parse(string.Concat(" nop ", line.AsSpan(request.Problem.Place.Columns.End)))
            .Operands.Length;
        if (InstructionSet.Find(meant) is { } instruction)
        {
            return instruction.Operands switch
            {
                OperandKind.None => operands == 0,
                OperandKind.RegisterDestination => operands is 1 or 2,
                // A define may mean register and bit.
                OperandKind.RegisterBit => operands is 1 or 2,
                _ => operands == 1,
            };
        }

        return CodeShape.IsCode(
            LineSyntax.Parse(
                string.Concat(start == 0 ? " " : line[..start], meant, line.AsSpan(request.Problem.Place.Columns.End))
            )
        );
    }
}
