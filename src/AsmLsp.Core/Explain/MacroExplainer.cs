using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A macro: its definition, a call of it, and its parameters.</summary>
internal static class MacroExplainer
{
    private const int MostWordsShown = 12;

    /// <summary>A call: what it makes, and what its parameters mean.</summary>
    public static Explanation Call(ExplainContext context, Symbol macro, TextSpan span)
    {
        var text = new MarkdownText().Paragraph(Head(context, macro) + ", called here.");
        for (int i = 0; i < macro.Parameters.Count; i++)
        {
            string given =
                i < context.Syntax.Operands.Length && context.Syntax.Operands[i].Text.Length > 0
                    ? MarkdownText.Code(context.Syntax.Operands[i].Text)
                    : "nothing";
            text.Bullet($"{MarkdownText.Code(macro.Parameters[i])} is {given}");
        }

        if (context.Facts.Words > 0)
        {
            List<(int Address, int Word)> words = context.Words();
            text.Bullet("Makes " + CycleText.Of(context, words));
            text.Source(
                words
                    .Take(MostWordsShown)
                    .Select(w => $"{w.Address:X4} {w.Word:X4}  {InstructionExplainer.Listing(w.Word, w.Address)}")
            );
            if (words.Count > MostWordsShown)
                text.Paragraph($"and {words.Count - MostWordsShown} words more.");
            if (words.Count > 1)
                text.Bullet("A skip before this line skips only the first of these words.");
        }
        else
        {
            text.Bullet("Makes no word here");
        }

        InstructionExplainer.LeftOut(context, text);
        return new Explanation(text.ToString(), span);
    }

    /// <summary>The macro itself, at its definition or where it is named.</summary>
    public static void Definition(ExplainContext context, Symbol macro, MarkdownText text)
    {
        text.Paragraph(Head(context, macro) + ".");
        int lines = macro.Body?.Lines.Count ?? 0;
        int calls = NameUses.Of(context.Program, macro.Name).Total;
        text.Bullet($"{(lines == 1 ? "1 line" : $"{lines} lines")}, called {SymbolExplainer.Times(calls)}");
    }

    /// <summary>A parameter inside the body.</summary>
    public static Explanation Parameter(ExplainContext context, Symbol macro, string name, TextSpan span)
    {
        int index = macro.Parameters.ToList().IndexOf(name) + 1;
        return new Explanation(
            $"{MarkdownText.Code(name)} is parameter {index} of the macro {MarkdownText.Code(macro.Name)} ({context.PlaceOf(macro.Definition)}): each call puts its own text in its place.",
            span
        );
    }

    private static string Head(ExplainContext context, Symbol macro)
    {
        string parameters =
            macro.Parameters.Count == 0
                ? "without parameters"
                : $"with {string.Join(", ", macro.Parameters.Select(MarkdownText.Code))}";
        return $"Macro {MarkdownText.Code(macro.Name)} {parameters}, defined in {context.PlaceOf(macro.Definition)}";
    }
}
