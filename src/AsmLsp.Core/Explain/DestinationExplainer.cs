using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>Where the result of an instruction goes.</summary>
internal static class DestinationExplainer
{
    public static Explanation? Explain(ExplainContext context, string name, TextSpan span) =>
        name switch
        {
            "W" or "w" => Of(context, 0, span),
            "F" or "f" => Of(context, 1, span),
            _ => null,
        };

    /// <summary>The words for a destination, 0 or 1.</summary>
    public static Explanation Of(ExplainContext context, int destination, TextSpan span)
    {
        string register =
            context.Syntax.Operands.Length > 0 ? MarkdownText.Code(context.Syntax.Operands[0].Text) : "the register";
        return new Explanation(
            destination == 0
                ? $"**Destination W** (0): the result goes to W; {register} stays as it is."
                : $"**Destination register** (1): the result goes back to {register}; W stays as it is.",
            span
        );
    }
}
