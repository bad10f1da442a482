using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>
/// A configuration word: on any symbol or number of it the whole word with every field, its setting in plain words, and what
/// bites a repairer.
/// </summary>
internal static class ConfigurationExplainer
{
    private const int WordBits = 0x3FFF;

    /// <summary>Whether the token belongs to a configuration word: of a configuration line, or a plain word at its address.</summary>
    public static bool IsAbout(ExplainContext context, int token)
    {
        if (context.Syntax.OperationKind is not (OperationKind.Directive or OperationKind.Assignment))
            return false;
        if (DirectiveList.Find(context.Syntax) is ConfigDirective)
            return true;
        if (token == context.Syntax.OperationToken)
            return false;
        if (IsAddress(context, context.Facts.Address) && context.Facts.Words == 1)
            return true;
        // 'SETUP equ _CP_OFF & _WDT_OFF': a configuration word under a name of the program.
        return context.Syntax.OperationKind == OperationKind.Assignment
            && context.Syntax.Operands.Length == 1
            && context.Syntax.Operands[0].Value is BinaryExpression whole
            && NamesSettingsOnly(context, whole);
    }

    public static Explanation Explain(ExplainContext context)
    {
        TextSpan span = context.Syntax.OperandSpan.Length > 0 ? context.Syntax.OperandSpan : context.Syntax.CodeSpan;
        var text = new MarkdownText();
        bool isDirective = DirectiveList.Find(context.Syntax) is ConfigDirective;
        if (WordOf(context, isDirective) is not { } word)
        {
            text.Paragraph(
                isDirective && context.Syntax.Operands.Length == 0
                    ? "**Configuration word**: oscillator, watchdog, protection and the like. The settings are missing here."
                    : "**Configuration word**, whose value cannot be worked out here."
            );
            return new Explanation(text.ToString(), span);
        }

        int address = AddressOf(context, isDirective);
        if (context.Device is not { } device)
        {
            text.Paragraph(
                $"**Configuration word {MarkdownText.Code(Show.Hex(word))}** at {MarkdownText.Code(Show.Hex(address))}. What its bits mean depends on the chip, which the program does not name."
            );
            return new Explanation(text.ToString(), span);
        }

        if (device.ConfigurationWords.FirstOrDefault(w => w.Address == address) is not { } layout)
        {
            text.Paragraph($"{device.Name} has no configuration word at {MarkdownText.Code(Show.Hex(address))}.");
            return new Explanation(text.ToString(), span);
        }

        Describe(context, device, layout, word, text);
        return new Explanation(text.ToString(), span);
    }

    private static void Describe(
        ExplainContext context,
        Device device,
        ConfigurationWord layout,
        int word,
        MarkdownText text
    )
    {
        string which = device.ConfigurationWords.Length > 1 ? $" at {MarkdownText.Code(Show.Hex(layout.Address))}" : "";
        text.Paragraph($"**Configuration word {MarkdownText.Code(Show.Hex(word))}** of {device.Name}{which}");
        text.Table(
            ["name", "value", "what it does"],
            layout
                .Decode(word)
                .Select(f => new[] { MarkdownText.Code(f.Field.Name), MarkdownText.Code(Show.Hex(f.Bits)), Setting(f) })
        );

        ConfigurationReading reading = Read(context, device, layout, word);
        foreach (ConfigurationConcern concern in reading.Concerns)
            if (concern.Word == layout)
                text.Bullet(MarkdownText.Escape(concern.Text));
        bool hasOscillator = layout.Field(ConfigRole.Oscillator) is not null;
        if (
            hasOscillator
            && reading.Oscillator is { } oscillator
            && context.Clock is { } clock
            && OscillatorFit.Of(device, oscillator, clock) is { } misfit
        )
            text.Bullet(MarkdownText.Escape(misfit));
        foreach (ConfigField field in layout.Fields)
            if (field.Note is { } note)
                text.Bullet($"{MarkdownText.Code(field.Name)}: {MarkdownText.Escape(note)}");
        if (layout.Note is { } odd)
            text.Bullet(MarkdownText.Escape(MarkdownText.Capital(odd)));
        if (device.IsOneTimeProgrammable)
            text.Bullet("This chip can be programmed once only: a wrong setting costs the chip.");
    }

    private static string Setting(DecodedField field)
    {
        string name = field.Setting is { Names.Length: > 0 } setting ? $" ({MarkdownText.Code(setting.Names[0])})" : "";
        return MarkdownText.Escape(field.InWords) + name;
    }

    // The other configuration word, where there are two, is as the program sets it.
    private static ConfigurationReading Read(ExplainContext context, Device device, ConfigurationWord layout, int word)
    {
        var words = new List<KeyValuePair<int, ushort>>(2);
        foreach (ConfigurationWord other in device.ConfigurationWords)
        {
            if (other == layout)
                words.Add(new(other.Address, (ushort)word));
            else if (context.Program.Image.TryGet(other.Address, out ushort set, out _))
                words.Add(new(other.Address, set));
        }

        return ConfigurationReading.Read(device, WordMemory.From(words));
    }

    private static int? WordOf(ExplainContext context, bool isDirective)
    {
        var operands = context.Syntax.Operands;
        int at = isDirective && operands.Length > 1 ? 1 : 0;
        if (at < operands.Length && context.ValueOf(operands[at].Value) is { } value)
            return value & WordBits;
        return context.Facts.Address >= 0 && context.Program.Image.TryGet(context.Facts.Address, out ushort word, out _)
            ? word & WordBits
            : null;
    }

    private static int AddressOf(ExplainContext context, bool isDirective)
    {
        if (context.Facts.Address >= ChipContext.FirstConfigurationAddress)
            return context.Facts.Address;
        if (
            isDirective
            && context.Syntax.Operands.Length > 1
            && context.ValueOf(context.Syntax.Operands[0].Value) is { } address
        )
            return address;
        return SettingWord(context) ?? ChipContext.FirstConfigurationAddress;
    }

    // The word that the first setting of the line belongs to.
    private static int? SettingWord(ExplainContext context)
    {
        for (int i = context.Syntax.FirstOperandToken; i < context.Syntax.EndOfCode; i++)
        {
            if (context.Syntax.Tokens[i].Kind != TokenKind.Name)
                continue;
            if (
                context.Values.Find(context.Syntax.TextOf(i)).BuiltIn is
                { Kind: DeviceSymbolKind.ConfigurationSetting, Word: { } word }
            )
                return word.Address;
        }

        return null;
    }

    private static bool IsAddress(ExplainContext context, int address) =>
        context.Device is { } device
            ? device.ConfigurationWords.Any(w => w.Address == address)
            : address == ChipContext.FirstConfigurationAddress;

    private static bool NamesSettingsOnly(ExplainContext context, Expression expression) =>
        expression switch
        {
            BinaryExpression binary => NamesSettingsOnly(context, binary.Left)
                && NamesSettingsOnly(context, binary.Right),
            ParenthesizedExpression inner => NamesSettingsOnly(context, inner.Inner),
            NameExpression name => context.Values.Find(name.Name).BuiltIn
                is { Kind: DeviceSymbolKind.ConfigurationSetting },
            _ => false,
        };
}
