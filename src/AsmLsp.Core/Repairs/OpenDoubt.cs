using System.Collections.Immutable;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Reports the marks of doubts that nobody has resolved yet, and resolves one as a person says: the line as it is, or in another reading.</summary>
internal sealed class OpenDoubt : PrintCheck
{
    public override CheckTurn Turn => CheckTurn.First;

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.OpenDoubt];

    public override void Find(CheckedFile view)
    {
        foreach ((int line, LineShape shape) in view.Lines)
        {
            if (!shape.Has(LineTraits.Doubt) || DoubtMark.Find(view.TextOf(line)) is not { } span)
                continue;
            Doubt doubt = DoubtMark.Read(view.TextOf(line))!;
            // A mark of this tool says why it is there; a bare ';?' is the author's own.
            if (doubt.Words.Length == 0 && doubt.Alternatives.IsEmpty && doubt.Place.Length == 0)
                continue;
            // A mark without a printed place may come of another chip or of a HEX file, and then there is no page.
            view.Report(
                Catalogue.OpenDoubt,
                line,
                span,
                line,
                Explains.Nothing,
                doubt.InWords(),
                doubt.Origin.IsNone ? "Decide whether the line is right" : Doubt.CompareWithPage
            );
        }
    }

    internal override void Offer(FixRequest request)
    {
        string line = request.LineText;
        if (DoubtMark.Read(line) is not { } doubt)
            return;
        string accepted = DoubtMark.Remove(line);
        request.Guess("Accept it unchanged", null, request.Edit(accepted.Length, line.Length, ""));
        foreach (string reading in doubt.Alternatives)
        {
            string taken = DoubtReading.Take(line, reading);
            if (taken != accepted)
                request.Guess(
                    reading == Doubt.AsComment ? "Make it a comment" : $"Write '{reading.Trim()}' instead",
                    null,
                    Difference(request, line, taken)
                );
        }

        if (Commented(accepted) is { } code)
            request.Guess($"Make it the program's: '{code.Trim()}'", null, Difference(request, line, code));
    }

    // Code that was taken for a comment, as the line it would be; null where it is no code.
    private static string? Commented(string line)
    {
        ReadOnlySpan<char> text = line.AsSpan().TrimStart();
        if (text.Length == 0 || text[0] != ';')
            return null;
        string code = text.TrimStart(';').TrimStart().ToString();
        if (code.Length == 0)
            return null;
        LineSyntax flush = LineSyntax.Parse(code);
        if (flush.LabelToken < 0)
            code = " " + code;
        return CodeShape.IsCode(flush.LabelToken < 0 ? LineSyntax.Parse(code) : flush) ? code : null;
    }

    private static TextEdit Difference(FixRequest request, string before, string after)
    {
        int start = 0,
            least = Math.Min(before.Length, after.Length);
        while (start < least && before[start] == after[start])
            start++;
        int end = 0;
        while (end < least - start && before[^(end + 1)] == after[^(end + 1)])
            end++;
        return request.Edit(start, before.Length - end, after[start..^end]);
    }
}
