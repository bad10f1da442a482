using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A directive: what it does, how it is written, and what it came to on this line.</summary>
internal static class DirectiveExplainer
{
    private const int MostWordsShown = 8;

    public static Explanation Explain(ExplainContext context, Directive directive, TextSpan span)
    {
        var text = new MarkdownText();
        text.Paragraph(
            $"**{MarkdownText.Escape(context.Syntax.Operation!)}**: {MarkdownText.Escape(directive.Summary)}"
        );
        text.Bullet($"Written as {MarkdownText.Code(directive.Usage)}");
        if (
            context.Syntax.Label is { } label
            && directive.UsesLabel
            && context.Values.Find(label).Symbol is { IsKnown: true } symbol
        )
            text.Bullet($"Here: {MarkdownText.Code(symbol.Name)} is {LiteralExplainer.AllBases(symbol.Value)}");
        if (directive is BanksDirective or IndirectBankDirective or PageSelectDirective)
            Selected(context, directive, text);
        Words(context, directive, text);
        InstructionExplainer.LeftOut(context, text);
        return new Explanation(text.ToString(), span);
    }

    private static void Selected(ExplainContext context, Directive directive, MarkdownText text)
    {
        if (context.Syntax.Operands.Length == 0 || context.ValueOf(context.Syntax.Operands[0].Value) is not { } address)
            return;
        string name = MarkdownText.Code(context.Syntax.Operands[0].Text);
        if (directive is BanksDirective && context.Device is { } device)
        {
            text.Bullet($"Here: {name} is at {Show.Hex(address, 3)}, so bank {(address >> 7) & 3} is selected");
            if (device.DataMemory.IsSameInEveryBank(address))
                text.Bullet($"{name} is the same in every bank: this line is not needed for it");
        }
        else if (directive is IndirectBankDirective)
        {
            text.Bullet(
                $"Here: {name} is at {Show.Hex(address, 3)}, so banks {((address & 0x100) == 0 ? "0 and 1" : "2 and 3")} are selected for indirect access"
            );
        }
        else if (directive is PageSelectDirective)
        {
            text.Bullet($"Here: {name} is at {Show.Hex(address)}, in page {(address >> 11) & 3}");
        }
    }

    private static void Words(ExplainContext context, Directive directive, MarkdownText text)
    {
        if (context.Facts.Words == 0)
        {
            if (directive is PageSelectDirective && context.Device is { ProgramPages: 1 })
                text.Bullet("This chip has one page: the line makes no word");
            return;
        }

        List<(int Address, int Word)> words = context.Words(MostWordsShown);
        if (directive is BanksDirective or IndirectBankDirective or PageSelectDirective)
        {
            text.Source(
                words.Select(w => $"{w.Address:X4} {w.Word:X4}  {InstructionExplainer.Listing(w.Word, w.Address)}")
            );
            text.Bullet(CycleText.Of(context, words));
            return;
        }

        string more = context.Facts.Words > words.Count ? $" and {context.Facts.Words - words.Count} more" : "";
        string count = context.Facts.Words == 1 ? "1 word" : $"{context.Facts.Words} words";
        text.Bullet(
            $"{count} from address {MarkdownText.Code(Show.Hex(context.Facts.Address))}: {MarkdownText.Code(string.Join(' ', words.Select(w => $"{w.Word:X4}")))}{more}"
        );
    }
}
