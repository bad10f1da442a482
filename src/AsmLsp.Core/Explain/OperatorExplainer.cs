using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>Words that are operators of an expression; any other unknown word has nothing to explain.</summary>
internal static class OperatorExplainer
{
    public static Explanation? Explain(string word, TextSpan span)
    {
        string? text = word.ToUpperInvariant() switch
        {
            "LOW" =>
                "**low** takes bits 7 to 0 of the value after it: the part of an address that goes into W for `addwf PCL,f`.",
            "HIGH" =>
                "**high** takes bits 15 to 8 of the value after it: the part of an address that goes into PCLATH.",
            "UPPER" => "**upper** takes bits 21 to 16 of the value after it; always 0 for addresses of these chips.",
            "DEFINED" => "**defined** gives 1 where the name is known above this line, else 0.",
            _ => null,
        };
        return text is null ? null : new Explanation(text, span);
    }
}
