using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>What there is to say about a thing of a line.</summary>
/// <param name="Markdown">The text as Markdown: the answer in the first line, what else there is to know below.</param>
/// <param name="Span">The thing's stretch, in columns of its line (UTF-16 code units).</param>
public sealed record Explanation(string Markdown, TextSpan Span)
{
    /// <summary>The same text for places that show no Markdown; lines end with <c>\n</c>.</summary>
    public string ToPlainText() => PlainText.Of(Markdown);

    /// <summary>The answer alone: the first line, as plain text.</summary>
    public string FirstLine
    {
        get
        {
            int end = Markdown.IndexOf('\n', StringComparison.Ordinal);
            return PlainText.Of(end < 0 ? Markdown : Markdown[..end]);
        }
    }
}

/// <summary>What the surroundings know beside the program.</summary>
public sealed record ExplainOptions
{
    /// <summary>Nothing but the program.</summary>
    public static ExplainOptions Default { get; } = new();

    /// <summary>The chip's clock in hertz as settings or the project file say; null leaves it to the program.</summary>
    public double? ClockHertz { get; init; }
}
