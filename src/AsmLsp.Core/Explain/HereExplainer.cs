using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary><c>$</c>: the address of this line's word.</summary>
internal static class HereExplainer
{
    public static Explanation Explain(ExplainContext context, TextSpan span)
    {
        int here = context.Facts.Address >= 0 ? context.Facts.Address : context.Facts.Location;
        string value = context.EnclosingMacro is null
            ? $": {MarkdownText.Code(Show.Hex(here))}"
            : "; it is another one in each call of the macro";
        var text = new MarkdownText().Paragraph($"**$** is the address of this line's own word{value}.");
        text.Bullet(
            "`goto $` waits here for ever; `$-1` is the word before, `$+1` the word after. A line that is inserted between moves the target: a label is safer."
        );
        return new Explanation(text.ToString(), span);
    }
}
