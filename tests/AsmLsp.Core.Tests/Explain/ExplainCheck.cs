using AsmLsp.Core.Assembly;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Explain;

/// <summary>Explains the place that '$0' marks in a source, as plain text.</summary>
internal static class ExplainCheck
{
    public static string? At(string source, ExplainOptions? options = null) => Find(source, options)?.ToPlainText();

    public static Explanation? Find(string source, ExplainOptions? options = null)
    {
        int caret = source.IndexOf("$0", StringComparison.Ordinal);
        Assert.True(caret >= 0, "The source holds no '$0'.");
        var file = new SourceFile("test.asm", SourceText.From(source.Remove(caret, 2)));
        LinePosition at = file.Text.PositionAt(caret);
        return Explainer.At(Assembler.Assemble(file), file, at.Line, at.Column, options);
    }

    /// <summary>The text that the explanation is about.</summary>
    public static string? SpanAt(string source)
    {
        int caret = source.IndexOf("$0", StringComparison.Ordinal);
        var text = SourceText.From(source.Remove(caret, 2));
        return Find(source) is { } found
            ? text[text.PositionAt(caret).Line].Text.Substring(found.Span.Start, found.Span.Length)
            : null;
    }

    public static string? Line(string source, int line)
    {
        var file = new SourceFile("test.asm", SourceText.From(source));
        return Explainer.Line(Assembler.Assemble(file), file, line - 1)?.ToPlainText();
    }

    /// <summary>The source of a program on the PIC16F84A around a line.</summary>
    public static string Around(string line, string comment = "") =>
        $"""
             list p=16f84a
             #include <p16f84a.inc>
             __config _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC
            {comment}
             org 0
            start
            {line}
             end
            """;
}
