using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Audit;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// Judges lines that a machine has read: each word of the code is compared with the words that it may have been on paper. A known word
/// with no known look-alike needs no doubt; a digit has no such support, and needs one unless it was read clearly.
/// </summary>
internal sealed class OcrAlternatives
{
    // Below these a character may be any other one. Wrong digits were read with up to 0.980 in the measurements, and letters of known
    // words have the support of the whole word.
    private const float ClearDigit = 0.985f,
        ClearLetter = 0.9f;

    // What is read so many times is no slip.
    private const int Outvotes = 2;

    private static readonly string[] Bare =
    [
        .. OperationWords
            .Entries.Where(static w =>
                w.Has(WordTraits.NoOperand)
                && !w.Has(WordTraits.Shorthand)
                && w.Keyword is not (Keyword.Page or Keyword.NoList or Keyword.Expand)
            )
            .Select(static w => w.Text),
    ];

    private readonly RecoveryResult result;
    private readonly HashSet<int> alreadyReported;
    private readonly UnresolvedNames names;
    private readonly Dictionary<string, int?> values = new(StringComparer.Ordinal);
    private readonly HashSet<int> withoutDestination = [];
    private readonly HashSet<string> operations = new(StringComparer.OrdinalIgnoreCase);
    private readonly LostPoints points;
    private readonly bool leavesDestinationsOut;
    private readonly bool chipIsConfirmed;

    /// <param name="result">The recovered source.</param>
    /// <param name="alreadyReported">The lines that somebody is sent to already.</param>
    public OcrAlternatives(RecoveryResult result, HashSet<int> alreadyReported)
    {
        (this.result, this.alreadyReported, names) = (result, alreadyReported, new UnresolvedNames(result));
        foreach (Symbol symbol in result.Program.Symbols)
        {
            if (symbol.Kind == SymbolKind.Macro)
                operations.Add(symbol.Name);
            else
                values[symbol.Name] = symbol.IsKnown ? symbol.Value : null;
        }

        if (result.Program.NamesDevice is { } device)
            foreach (DeviceSymbol symbol in device.Symbols.All)
                values.TryAdd(symbol.Name, symbol.Value);
        foreach (string word in OperationWords.All)
            operations.Add(word);
        foreach (string name in (string[])["w", "W"])
            values.TryAdd(name, 0);
        foreach (string name in (string[])["f", "F"])
            values.TryAdd(name, 1);
        int all = 0,
            naming = 0;
        bool disagree = false;
        foreach (Problem problem in result.Program.Problems)
        {
            if (problem.Kind == Catalogue.DestinationLeftOut && problem.Place.File == result.Program.Root)
                withoutDestination.Add(problem.Place.Line);
            disagree |= problem.Kind == Catalogue.ChipsDisagree || problem.Kind == Catalogue.ChipsAlike;
        }

        for (int i = 0; i < result.Source.LineCount; i++)
        {
            LineSyntax syntax = LineSyntax.Of(result.Source[i]);
            if (
                syntax.OperationKind == OperationKind.Instruction
                && InstructionSet.Find(syntax.Operation)?.Operands == OperandKind.RegisterDestination
            )
                all++;
            if (NamesChip(syntax))
                naming++;
        }

        points = new LostPoints(result);
        leavesDestinationsOut = withoutDestination.Count * 2 > all;
        chipIsConfirmed = naming > 1 && !disagree;
    }

    /// <summary>Whether the letters of the listing are of different widths, so that none has a cell of its own.</summary>
    public bool IsOffGrid { get; init; }

    /// <summary>The doubt of a line with code, or null.</summary>
    public ReadingDoubt? OfCode(LineSyntax syntax, int number, in LineFacts facts, OcrLine line)
    {
        if (NamesChip(syntax) && chipIsConfirmed)
            return null;
        if (withoutDestination.Contains(number) && !leavesDestinationsOut)
            return new ReadingDoubt(
                new Doubt("no destination was read"),
                "No destination (w or f) was found after this register. Is one printed?"
            );
        bool member = (facts.Role & LineRole.BlockMember) != 0;
        if (
            syntax.CommentToken >= 0
            && member
            && syntax.CommentToken > 0
            && syntax.Tokens[syntax.CommentToken - 1].Kind != TokenKind.Blank
        )
            return new ReadingDoubt(
                new Doubt("';' or ':' here?"),
                "The ';' comes directly after the name of a variable. If ':' and a size are printed, the variables below move."
            );
        for (int i = 0; i < syntax.EndOfCode; i++)
        {
            SyntaxToken token = syntax.Tokens[i];
            string word = syntax.TextOf(i);
            if (token.Kind is TokenKind.Blank or TokenKind.Comma or TokenKind.Open or TokenKind.Close)
                continue;
            // The span belongs to the line until the next word is asked for.
            ReadOnlySpan<float> clarity = line.Clarity(word);
            ReadingDoubt? doubt = token.Kind switch
            {
                TokenKind.Name when i == syntax.OperationToken => OfOperation(
                    syntax,
                    i,
                    number,
                    clarity.ToArray(),
                    line.IsOnGrid
                ),
                TokenKind.Name when i == syntax.LabelToken || member => OfDefinition(
                    syntax,
                    i,
                    clarity.ToArray(),
                    line.IsOnGrid
                ),
                TokenKind.Name => OfName(syntax, i, number, clarity.ToArray(), line.IsOnGrid),
                TokenKind.Number => OcrNumbers.Of(syntax, i, clarity.ToArray(), facts.Radix, IsDestination(syntax, i))
                    ?? points.Of(syntax, i, facts.Radix),
                TokenKind.Text or TokenKind.Character => OcrTexts.Of(word, clarity, line.IsOnGrid),
                TokenKind.Operator => OcrSigns.Of(syntax, i, clarity),
                _ => null,
            };
            if (doubt is not null)
                return doubt;
        }

        if (syntax.LabelToken < 0 && syntax.Has(WordTraits.NoOperand))
            return null;
        if (line.IsInkUnknown)
            return line.IsClarityKnown ? OcrQuestions.DirtyPage : OcrQuestions.Layer;
        return line.IsOffGrid || (IsOffGrid && !line.IsWhole) ? OcrQuestions.OffGrid : null;
    }

    private static bool NamesChip(LineSyntax syntax)
    {
        return syntax.Keyword is Keyword.Include or Keyword.Processor
            || (
                syntax.Keyword == Keyword.List && syntax.OperandText.Contains("p=", StringComparison.OrdinalIgnoreCase)
            );
    }

    private static bool IsClear(string word, float[] clarity, int at) =>
        at < clarity.Length && clarity[at] >= (char.IsAsciiDigit(word[at]) ? ClearDigit : ClearLetter);

    private ReadingDoubt? OfOperation(LineSyntax syntax, int token, int number, float[] clarity, bool onGrid)
    {
        string word = syntax.TextOf(token);
        // An operation that nobody knows is reported, but not in a macro that nobody calls.
        if (!operations.Contains(word))
            return values.ContainsKey(word) || alreadyReported.Contains(number) ? null : OcrQuestions.Unclear(word);
        if (
            !OperationWords.All.Contains(word, StringComparer.OrdinalIgnoreCase)
            && names.OtherOf(word, isDefined: false) is { } unknown
            && MayBe(word, unknown, clarity, onGrid)
        )
            return OcrQuestions.Either(syntax, token, [unknown]);
        if (clarity.Length == 0)
            clarity = new float[word.Length];
        bool capitals = !word.AsSpan().ContainsAnyInRange('a', 'z');
        var others = new List<string>();
        foreach (string known in operations)
        {
            string other = capitals ? known.ToUpperInvariant() : known;
            if (
                other.Equals(word, StringComparison.OrdinalIgnoreCase)
                || !char.IsAsciiLetter(other[^1])
                || other.AsSpan().TrimStart('#').SequenceEqual(word.AsSpan().TrimStart('#'))
                || !MayBe(word, other, clarity, onGrid)
                // One that lost a character without a trace is one that the program has.
                || (other.Length != word.Length && names.TimesRead(other) == 0)
            )
                continue;
            string text = string.Concat(
                syntax.Text.AsSpan(0, syntax.Tokens[token].Start),
                other,
                syntax.Text.AsSpan(syntax.Tokens[token].End)
            );
            if (OperationWords.KindOf(other) != OperationKind.Instruction || CodeShape.IsCode(LineSyntax.Parse(text)))
                others.Add(other);
        }

        return others.Count == 0 ? null
            : others.Count > 3 ? OcrQuestions.Unclear(word)
            : OcrQuestions.Either(syntax, token, others);
    }

    // Another name in its place would be reported where it is used; a name that nobody uses may be no name.
    private ReadingDoubt? OfDefinition(LineSyntax syntax, int token, float[] clarity, bool onGrid)
    {
        string word = syntax.TextOf(token);
        // Where other lines have the name as it is here, those that have another one are the misread ones.
        if (
            names.OtherOf(word, isDefined: true) is { } unknown
            && (names.TimesRead(word) <= 1 || MayBe(word, unknown, clarity, onGrid))
        )
            return OcrQuestions.Either(syntax, token, [unknown]);
        if (
            result.Program.FindSymbol(word) is not { IsReferenced: false } symbol
            || (symbol.Kind == SymbolKind.Macro && names.TimesRead(word) > 1)
        )
            return null;
        // Of a name that is used and defined nowhere, the definition may be this one; a short one is near to none.
        bool isUnclear = clarity.Length == 0 || Array.Exists(clarity, static c => c < ClearLetter);
        if (names.Any && (isUnclear || word.Length <= 2 || names.MayBeDefinedBy(word)))
            return OcrQuestions.Unclear(word);
        if (
            syntax.OperationToken < 0
            && Array.Exists(Bare, b => Math.Abs(b.Length - word.Length) <= 1 && WordDistance.Of(b, word) <= 2)
        )
            return new ReadingDoubt(
                new Doubt("label or operation?"),
                $"Nothing uses the label {word}: was an operation misread? Compare it with the page."
            );
        return null;
    }

    private static bool IsDestination(LineSyntax syntax, int token) =>
        token == syntax.EndOfCode - 1
        && token > 0
        && syntax.Tokens[token - 1].Kind is TokenKind.Comma or TokenKind.Blank
        && InstructionSet.Find(syntax.Operation)?.Operands == OperandKind.RegisterDestination;

    private ReadingDoubt? OfName(LineSyntax syntax, int token, int number, float[] clarity, bool onGrid)
    {
        string word = syntax.TextOf(token);
        bool isDestination = IsDestination(syntax, token);
        if (clarity.Length == 0)
            clarity = new float[word.Length];
        // 'retlw Z': a bit of the chip as a value is more likely a digit that was misread.
        if (
            word.Length == 1
            && result.Program.FindSymbol(word) is null
            && InstructionSet.Find(syntax.Operation)?.Operands == OperandKind.Literal8
        )
            return OcrQuestions.Unclear(word);
        if (names.IsOfMacro(word, number))
            return names.IsLoneInMacro(word, number) ? OcrQuestions.Unclear(word) : null;
        // A name that nobody knows is reported where it is used, but not in a macro that nobody calls.
        if (!values.TryGetValue(word, out int? value))
            return
                alreadyReported.Contains(number)
                || operations.Contains(word)
                // After such a directive, names mean nothing that a program must know.
                || (syntax.OperationKind == OperationKind.Directive && !syntax.Has(WordTraits.TakesValues))
                ? null
                : OcrQuestions.Unclear(word);
        if (
            result.Program.FindSymbol(word) is not null
            && names.OtherOf(word, isDefined: false) is { } unknown
            && MayBe(word, unknown, clarity, onGrid)
        )
            return OcrQuestions.Either(syntax, token, [unknown]);
        var others = new List<string>();
        foreach ((string other, int? otherValue) in values)
        {
            if (
                other == word
                || (value is not null && value == otherValue)
                || (isDestination && otherValue is not (0 or 1))
                || !MayBe(word, other, clarity, onGrid)
                || IsOutvoted(word, other, clarity)
            )
                continue;
            if (!others.Contains(other, StringComparer.OrdinalIgnoreCase))
                others.Add(other);
        }

        return others.Count == 0 ? null
            : others.Count > 3 ? OcrQuestions.Unclear(word)
            : OcrQuestions.Either(syntax, token, others);
    }

    private static bool MayBe(string word, string other, float[] clarity, bool onGrid)
    {
        if (word.Length == other.Length)
        {
            for (int i = 0; i < word.Length; i++)
            {
                if (word[i] == other[i])
                    continue;
                bool proved = i < clarity.Length && clarity[i] >= OcrLine.Proved;
                if (
                    proved
                        ? !GlyphConfusion.HaveOneShape(word[i], other[i])
                        : !GlyphConfusion.Alike(word[i], other[i]) && IsClear(word, clarity, i)
                )
                    return false;
            }

            return true;
        }

        // Off a grid nobody sees that a character is missing, or one too many.
        return !onGrid
            && Math.Min(word.Length, other.Length) > 2
            && Math.Abs(word.Length - other.Length) == 1
            && WordDistance.Of(word, other) == 1;
    }

    // A name that the program has again and again is not one that it has nowhere, where each of its characters was read clearly.
    private bool IsOutvoted(string word, string other, float[] clarity)
    {
        if (
            names.TimesRead(word) < Outvotes
            || names.TimesRead(other) > 0
            || result.Program.FindSymbol(other) is not null
        )
            return false;
        for (int i = 0; i < word.Length; i++)
            if (!IsClear(word, clarity, i))
                return false;
        return true;
    }
}
