using AsmLsp.Core.Instructions;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A shorthand operation: what it means, with the words of this line.</summary>
internal static class ShorthandExplainer
{
    public static Explanation Explain(ExplainContext context, Shorthand shorthand, TextSpan span)
    {
        var text = new MarkdownText();
        text.Paragraph($"**{shorthand.Name.ToUpperInvariant()}**: {MarkdownText.Escape(shorthand.Summary)}");
        List<(int Address, int Word)> words = context.Words();
        if (words.Count > 0)
        {
            text.Paragraph(
                words.Count == 1
                    ? "A shorthand for one instruction:"
                    : $"A shorthand for {words.Count} instructions; a skip before it skips only the first:"
            );
            text.Source(
                words.Select(w => $"{w.Address:X4} {w.Word:X4}  {InstructionExplainer.Listing(w.Word, w.Address)}")
            );
            text.Bullet(CycleText.Of(context, words));
        }
        else
        {
            text.Bullet(
                "Short for "
                    + string.Join(", ", shorthand.Instructions.Select(i => MarkdownText.Code(i.Name)))
                    + (shorthand.DependsOnPages ? ", with the page bits set before" : "")
            );
        }

        StatusFlags flags = StatusFlags.None;
        foreach (Instruction instruction in shorthand.Instructions)
            flags |= instruction.Affects;
        text.Bullet(MarkdownText.Capital(InstructionExplainer.Flags(flags)));
        InstructionExplainer.LeftOut(context, text);
        return new Explanation(text.ToString(), span);
    }
}
