using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Structure;

/// <summary>What a selection grows to, step by step: word, operand, all operands, code, line, routine, section, file.</summary>
public static class Selections
{
    /// <summary>The steps at a place, the widest first; each one is inside the one before it.</summary>
    public static List<(LinePosition Start, LinePosition End)> At(ProgramFile file, LinePosition at)
    {
        // From the widest to the narrowest; each one that is really inside the one before it counts.
        var steps = new List<(LinePosition Start, LinePosition End)>
        {
            (new(0, 0), file.Text.PositionAt(file.Text.Length)),
        };
        IEnumerable<OutlineEntry> entries = Outline.Of(file);
        while (entries.FirstOrDefault(entry => at.Line >= entry.FirstLine && at.Line <= entry.LastLine) is { } entry)
        {
            steps.Add(Lines(entry.FirstLine, entry.LastLine));
            entries = entry.Children;
        }

        LineSyntax line = file.Line(at.Line);
        steps.Add(Lines(at.Line, at.Line));
        if (line.CommentToken >= 0)
        {
            Add(line.Tokens[line.CommentToken].Span);
        }

        Add(line.CodeSpan);
        Add(line.OperandSpan);
        foreach (OperandSyntax operand in line.Operands)
        {
            Add(operand.Span);
        }

        foreach (SyntaxToken token in line.Tokens)
        {
            if (token.Kind is TokenKind.Name or TokenKind.Number or TokenKind.Character or TokenKind.Text)
            {
                Add(token.Span);
            }
        }

        var chosen = new List<(LinePosition Start, LinePosition End)>();
        foreach ((LinePosition Start, LinePosition End) step in steps)
        {
            if (chosen is not [.., var outer] || (step != outer && step.Start >= outer.Start && step.End <= outer.End))
            {
                chosen.Add(step);
            }
        }

        return chosen;

        (LinePosition, LinePosition) Lines(int first, int last) =>
            (new(first, 0), new(last, file.Text[last].Text.Length));

        void Add(TextSpan span)
        {
            if (span.Length > 0 && span.Touches(at.Column))
            {
                steps.Add((new(at.Line, span.Start), new(at.Line, span.End)));
            }
        }
    }
}
