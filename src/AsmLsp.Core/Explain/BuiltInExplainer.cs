using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A name that is built in for the chip.</summary>
internal static class BuiltInExplainer
{
    public static Explanation? Explain(ExplainContext context, DeviceSymbol symbol, string name, TextSpan span)
    {
        switch (symbol.Kind)
        {
            case DeviceSymbolKind.Register:
                return RegisterExplainer.Explain(context, symbol.Register!, span);
            case DeviceSymbolKind.Bit:
                return BitExplainer.Named(context, symbol, name, span);
            case DeviceSymbolKind.Destination:
                return DestinationExplainer.Explain(context, name, span);
            case DeviceSymbolKind.ChipName:
                return ChipExplainer.Explain(context, context.Program.NamesDevice!, span);
            case DeviceSymbolKind.ConfigurationAddress:
                return new Explanation(
                    $"**{MarkdownText.Escape(name)}**: the address of a configuration word, {MarkdownText.Code(Show.Hex(symbol.Value))}",
                    span
                );
            default:
                return Setting(symbol, name, span);
        }
    }

    private static Explanation Setting(DeviceSymbol symbol, string name, TextSpan span)
    {
        var text = new MarkdownText().Paragraph(
            $"**{MarkdownText.Escape(name)}**: {MarkdownText.Escape(symbol.Setting!.Meaning)}"
        );
        text.Bullet(
            $"A setting of the configuration field {MarkdownText.Code(symbol.Field!.Name)}, bits {MarkdownText.Code(Show.Hex(symbol.Field.Mask))} of the word at {MarkdownText.Code(Show.Hex(symbol.Word!.Address))}"
        );
        text.Bullet(
            $"Worth {MarkdownText.Code(Show.Hex(symbol.Value))}: every bit outside the field is 1, so that settings are joined by `&`"
        );
        if (symbol.Field.Note is { } note)
            text.Bullet(MarkdownText.Escape(MarkdownText.Capital(note)));
        return new Explanation(text.ToString(), span);
    }
}
