using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Ocr;
using AsmLsp.Core.Recovery.Suspicions;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>Judges comments of a text that a machine has read: each may be an instruction that was misread.</summary>
internal static class OcrComments
{
    // A comment of more words is no instruction that lost its shape.
    private const int WordsOfCode = 4;

    // A sign of a comment that was read so clearly is printed: it is two spots of ink, which dirt does not make.
    private const float ClearSign = 0.9f;

    /// <summary>The doubt of a line without code, or null.</summary>
    public static ReadingDoubt? OfComment(LineSyntax syntax, List<ListingLine> own, ProgramAnalysis program)
    {
        if (syntax.CommentToken < 0)
            return null;
        string comment = syntax.Comment!.TrimStart(';', ' ', '\t');
        string mark = !DoubtMark.IsOn(syntax.Text)
            ? comment
            : comment[..Math.Max(0, comment.LastIndexOf(DoubtMark.Sign, StringComparison.Ordinal))];
        if (AssemblyLook.Of(" " + mark) == Look.Code && !own.TrueForAll(HasSign))
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

        return OfRests(own, program);
    }

    // A ';' that was read where none is printed was not met in the measurements; nobody knows how clear the ones of a paste were.
    private static bool HasSign(ListingLine line) =>
        line.Printed is { IsInkUnknown: false } printed
        && (printed.AsRead is not { } read || MisreadRemarks.IsRule(read))
        && printed.Text.AsSpan().TrimStart() is [';', ..]
        && (
            printed.IsPasted
            || (
                !printed.CharacterConfidences.IsDefaultOrEmpty
                && printed.CharacterConfidences[printed.Text.IndexOf(';', StringComparison.Ordinal)] >= ClearSign
            )
        );

    /// <summary>The doubt of a comment that was joined with what is printed below it, or null.</summary>
    public static ReadingDoubt? OfRests(List<ListingLine> own, ProgramAnalysis program)
    {
        foreach (ListingLine line in own)
        {
            // The words that the line has more than its first printed line; what is taken off in front of it are three at most.
            int more = WordsOf(line.Text) - WordsOf(line.Printed!.Text);
            if (!line.Rests.IsNone && MayBeCode(line.Text, more, program))
                return new ReadingDoubt(
                    new Doubt("the rest of the comment, or an instruction?"),
                    "The printed line below was taken as the rest of this comment. Compare it with the page: an instruction may have been misread."
                );
        }

        return null;
    }

    // An operation, misread or not, among the first words; what only operands have, a name of the program, or a sign of a comment of its own.
    private static bool MayBeCode(string text, int words, ProgramAnalysis program)
    {
        string[] rest = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        if (words <= 0 || words > rest.Length)
            return true;
        rest = rest[^words..];
        string first = rest[0];
        // Several rows may have been joined: any word may be the first of one.
        if (
            Array.Exists(
                rest,
                static w =>
                    w.Contains(';', StringComparison.Ordinal)
                    || MisreadRemarks.MayBeInstruction(w.Trim('_', '-', '\u2014', '.', ','))
            )
        )
            return true;
        if (rest.Length == 1)
            return MisreadRemarks.MayBeOperation(first)
                || MisreadRemarks.MayBeBareOperation(first)
                || program.FindSymbol(first.TrimEnd(':')) is not null;
        if (rest.Take(2).Any(MisreadRemarks.MayBeOperation))
            return true;
        return rest.Length <= WordsOfCode
            && (
                Array.Exists(rest, w => IsName(w.Trim(',', '.', ':'), program))
                || rest[^1].AsSpan(0, rest[^1].Length - 1).Contains(',')
                || (rest.Length <= 2 && rest[^1].AsSpan().IndexOfAnyInRange('0', '9') >= 0)
            );
    }

    private static bool IsName(string word, ProgramAnalysis program) =>
        program.FindSymbol(word) is not null || program.NamesDevice?.Symbols.Find(word) is not null;

    private static int WordsOf(string text) => text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Length;
}
