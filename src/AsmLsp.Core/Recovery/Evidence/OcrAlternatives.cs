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
    // A sign read with less confidence than this is unclear (docs/recovery.md has the measurement of OCR).
    private const float Unsure = 0.5f;

    // Below these a character may be any other one. Wrong digits were read with up to 0.980 in the measurements, and letters of known
    // words have the support of the whole word.
    private const float ClearDigit = 0.985f,
        ClearLetter = 0.9f;

    /// <summary>A comment of more words is no instruction that lost its shape.</summary>
    public const int WordsOfCode = 4;

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

        leavesDestinationsOut = withoutDestination.Count * 2 > all;
        chipIsConfirmed = naming > 1 && !disagree;
    }

    /// <summary>Whether the letters of the listing are of different widths, so that none has a cell of its own.</summary>
    public bool IsOffGrid { get; init; }

    /// <summary>The doubt of a line without code, or null.</summary>
    public static ReadingDoubt? OfComment(LineSyntax syntax, List<ListingLine> own)
    {
        if (syntax.CommentToken < 0)
            return null;
        string comment = syntax.Comment!.TrimStart(';', ' ', '\t');
        string mark = !DoubtMark.IsOn(syntax.Text)
            ? comment
            : comment[..Math.Max(0, comment.LastIndexOf(DoubtMark.Sign, StringComparison.Ordinal))];
        if (AssemblyLook.Of(" " + mark) == Look.Code)
            return new ReadingDoubt(
                new Doubt("is this an instruction?"),
                "This comment reads as an instruction. If no ';' is printed in front of it, take it away."
            );
        // What became a comment for want of sense may be an instruction that was misread beyond recognition.
        foreach (ListingLine line in own)
        {
            if (line.Text.AsSpan().Trim() is { IsEmpty: false } text && text[0] != ';')
                return new ReadingDoubt(
                    new Doubt("no ';' was read here: is it an instruction?"),
                    "This line was taken as a comment, but no ';' was read in front of it. Compare it with the page: an instruction may have been misread."
                );
        }

        return OfRests(own);
    }

    /// <summary>The doubt of a comment that was joined with what is printed below it, or null.</summary>
    public static ReadingDoubt? OfRests(List<ListingLine> own)
    {
        foreach (ListingLine line in own)
        {
            // The words that the line has more than its first printed line; what is taken off in front of it are three at most.
            int more = WordsOf(line.Text) - WordsOf(line.Printed!.Text);
            if (!line.Rests.IsNone && more <= WordsOfCode)
                return new ReadingDoubt(
                    new Doubt("the rest of the comment, or an instruction?"),
                    "The printed line below was taken as the rest of this comment. Compare it with the page: an instruction may have been misread."
                );
        }

        return null;
    }

    private static int WordsOf(string text) => text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Length;

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
                TokenKind.Name when i == syntax.LabelToken || member => OfDefinition(syntax, i, clarity.ToArray()),
                TokenKind.Name => OfName(syntax, i, number, clarity.ToArray(), line.IsOnGrid),
                TokenKind.Number => OfNumber(syntax, i, word, clarity.ToArray(), facts.Radix),
                TokenKind.Text or TokenKind.Character => Unclear(word, "the text "),
                TokenKind.Operator => OcrSigns.Of(syntax, i, clarity),
                _ => null,
            };
            if (doubt is not null)
                return doubt;
        }

        if (syntax.LabelToken < 0 && syntax.Has(WordTraits.NoOperand))
            return null;
        if (line.IsInkUnknown)
            return line.IsClarityKnown ? DirtyPage : Layer;
        return IsOffGrid || line.IsOffGrid ? OffGrid : null;
    }

    // Blanks, commas and whole words get lost, and stay unseen, where no character has a cell of its own.
    private static ReadingDoubt OffGrid { get; } =
        new(
            new Doubt("check this line") { Kind = DoubtKind.PictureInGeneral },
            "Read from a picture of a font with wide and narrow letters, where a lost character cannot be seen. Compare the line with the page."
        );

    private static ReadingDoubt Layer { get; } =
        new(
            new Doubt("check this line") { Kind = DoubtKind.PictureInGeneral },
            "Some text recognition read this line before it came here, and nobody knows how clearly, or what it passed over. Compare the line with the page."
        );

    private static ReadingDoubt DirtyPage { get; } =
        new(
            new Doubt("check this line") { Kind = DoubtKind.PictureInGeneral },
            "The page is too dirty: a comma, a point or a digit of this line may be missing. Compare the line with the page."
        );

    /// <summary>The doubt of a word that may be another one.</summary>
    public static ReadingDoubt Unclear(string word, string what = "") =>
        new(
            new Doubt($"check {word}"),
            $"Read from a picture, and {what}{word} is not beyond doubt. Compare it with the page."
        );

    private static ReadingDoubt Either(LineSyntax syntax, int token, List<string> others)
    {
        string words = string.Join(" or ", others.Prepend(syntax.TextOf(token)));
        var readings = others.Select(other =>
            DoubtReading.Of(
                string.Concat(
                    syntax.Text.AsSpan(0, syntax.Tokens[token].Start),
                    other,
                    syntax.Text.AsSpan(syntax.Tokens[token].End)
                )
            )
        );
        return new(
            new Doubt($"is it {words}?") { Alternatives = [.. readings] },
            $"Read from a picture: is it {words}? Compare it with the page."
        );
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
            return values.ContainsKey(word) || alreadyReported.Contains(number) ? null : Unclear(word);
        if (
            !OperationWords.All.Contains(word, StringComparer.OrdinalIgnoreCase)
            && names.OtherOf(word, isDefined: false) is { } unknown
        )
            return Either(syntax, token, [unknown]);
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
                || !MayBe(word, other, clarity, onGrid)
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
            : others.Count > 3 ? Unclear(word)
            : Either(syntax, token, others);
    }

    // Another name in its place would be reported where it is used; a name that nobody uses may be no name.
    private ReadingDoubt? OfDefinition(LineSyntax syntax, int token, float[] clarity)
    {
        string word = syntax.TextOf(token);
        if (names.OtherOf(word, isDefined: true) is { } unknown)
            return Either(syntax, token, [unknown]);
        if (
            result.Program.FindSymbol(word) is not { IsReferenced: false } symbol
            || (symbol.Kind == SymbolKind.Macro && names.TimesRead(word) > 1)
        )
            return null;
        if (names.Any)
            return Unclear(word);
        if (word.Length <= 2 || clarity.Length == 0 || Array.Exists(clarity, static c => c < ClearLetter))
            return Unclear(word);
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
        if (names.IsOfMacro(word, number))
            return names.IsLoneInMacro(word, number) ? Unclear(word) : null;
        // A name that nobody knows is reported where it is used, but not in a macro that nobody calls.
        if (!values.TryGetValue(word, out int? value))
            return
                alreadyReported.Contains(number)
                || operations.Contains(word)
                // After such a directive, names mean nothing that a program must know.
                || (syntax.OperationKind == OperationKind.Directive && !syntax.Has(WordTraits.TakesValues))
                ? null
                : Unclear(word);
        if (result.Program.FindSymbol(word) is not null && names.OtherOf(word, isDefined: false) is { } unknown)
            return Either(syntax, token, [unknown]);
        var others = new List<string>();
        foreach ((string other, int? otherValue) in values)
        {
            if (
                other == word
                || (value is not null && value == otherValue)
                || (isDestination && otherValue is not (0 or 1))
                || !MayBe(word, other, clarity, onGrid)
            )
                continue;
            if (!others.Contains(other, StringComparer.OrdinalIgnoreCase))
                others.Add(other);
        }

        return others.Count == 0 ? null
            : others.Count > 3 ? Unclear(word)
            : Either(syntax, token, others);
    }

    private static ReadingDoubt? OfNumber(LineSyntax syntax, int token, string word, float[] clarity, int radix)
    {
        bool destination = word is "0" or "1" && IsDestination(syntax, token);
        if (clarity.Length == 0)
            return Unclear(word);
        // 0 and 1 are not taken for each other, and nothing else can be there.
        if (destination)
            return clarity[0] < Unsure ? Unclear(word) : null;
        for (int i = 0; i < clarity.Length; i++)
            if (clarity[i] < (char.IsAsciiLetterOrDigit(word[i]) ? ClearDigit : ClearLetter))
                return Unclear(word);
        // Small c and e are taken for each other at any clarity, as are the d of a decimal and the a of a character.
        LiteralReading reading = Literals.Read(word, radix);
        if (reading.Radix == 16 && word.AsSpan().IndexOfAny('c', 'e') >= 0)
        {
            string other = string.Create(
                word.Length,
                word,
                static (span, from) =>
                {
                    for (int i = 0; i < span.Length; i++)
                        span[i] =
                            from[i] == 'c' ? 'e'
                            : from[i] == 'e' ? 'c'
                            : from[i];
                }
            );
            return Either(syntax, token, [other]);
        }

        if (
            reading.Notation == LiteralNotation.Binary
            && word.AsSpan().Count('0') + word.AsSpan().Count('1') is not (8 or 14) and > 4
        )
            return Unclear(word);
        return word.Length == 4 && word[1] == '\'' && word[0] is 'a' or 'A' ? Unclear(word) : null;
    }

    private static bool MayBe(string word, string other, float[] clarity, bool onGrid)
    {
        if (GlyphConfusion.MayBe(word, other, i => IsClear(word, clarity, i)))
            return true;
        // Off a grid nobody sees that a character is missing, or one too many.
        return !onGrid
            && Math.Min(word.Length, other.Length) > 2
            && Math.Abs(word.Length - other.Length) == 1
            && WordDistance.Of(word, other) == 1;
    }
}
