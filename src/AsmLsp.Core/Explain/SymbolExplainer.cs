using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>A name that the program defines.</summary>
internal static class SymbolExplainer
{
    private const int MostPlaces = 6;

    public static Explanation? Explain(ExplainContext context, string name, TextSpan span)
    {
        (Symbol? symbol, _) = context.Values.Find(name);
        var text = new MarkdownText();
        if (symbol is null)
        {
            // Names made new in each call of a macro are known under their number.
            if (context.EnclosingMacro is null)
                return null;
            return new Explanation($"{MarkdownText.Code(name)} is a name of this macro, made new in each call.", span);
        }

        switch (symbol.Kind)
        {
            case SymbolKind.Label:
                Label(context, symbol, text);
                break;
            case SymbolKind.Macro:
                MacroExplainer.Definition(context, symbol, text);
                break;
            case SymbolKind.Define:
                Define(context, symbol, text);
                break;
            case SymbolKind.External:
                text.Paragraph($"{MarkdownText.Code(symbol.Name)} is said to be defined in another file.");
                break;
            default:
                Valued(context, symbol, text);
                break;
        }

        if (name != symbol.Name)
            text.Bullet($"Written {MarkdownText.Code(name)} here: the two differ in capital letters only");
        return new Explanation(text.ToString(), span);
    }

    /// <summary>How often, in words.</summary>
    public static string Times(int count) =>
        count switch
        {
            0 => "never",
            1 => "once",
            2 => "twice",
            _ => count.ToString(CultureInfo.InvariantCulture) + " times",
        };

    private static void Label(ExplainContext context, Symbol label, MarkdownText text)
    {
        text.Paragraph(
            $"Label {MarkdownText.Code(label.Name)} at address {MarkdownText.Code(Show.Hex(label.Value))}{Vector(context, label.Value)}"
        );
        Defined(context, label, text);
        NameUses.Uses uses = NameUses.Of(context.Program, label.Name);
        if (uses.Total == 0)
            text.Bullet("Nothing refers to it by name");
        if (uses.Calls.Count > 0)
            text.Bullet($"Called {Times(uses.Calls.Count)}: {Places(context, uses.Calls)}");
        if (uses.Jumps.Count > 0)
            text.Bullet($"Jumped to {Times(uses.Jumps.Count)}: {Places(context, uses.Jumps)}");
        if (uses.Others > 0)
            text.Bullet($"Used in other lines {Times(uses.Others)}");
        FlowExplainer.Routine(context, label.Value, text);
    }

    private static string Vector(ExplainContext context, int address)
    {
        if (context.Device is not { } device)
            return address == 0 ? ", where the program starts after reset" : "";
        if (address == device.ResetVector)
            return ", where the program starts after reset";
        return address == device.InterruptVector ? ", where an interrupt calls" : "";
    }

    private static void Define(ExplainContext context, Symbol define, MarkdownText text)
    {
        string parameters = define.Parameters.Count > 0 ? $"({string.Join(", ", define.Parameters)})" : "";
        bool isEmpty = string.IsNullOrEmpty(define.Text);
        text.Paragraph(
            isEmpty
                ? $"{MarkdownText.Code(define.Name)} is defined without a text, for `ifdef`"
                : $"{MarkdownText.Code(define.Name + parameters)} means {MarkdownText.Code(define.Text!)}"
        );
        if (!isEmpty && define.Parameters.Count == 0)
        {
            LineSyntax inner = LineSyntax.Parse(" dw " + define.Text);
            int? first = inner.Operands.Length > 0 ? context.ValueOf(inner.Operands[0].Value) : null;
            int? second = inner.Operands.Length > 1 ? context.ValueOf(inner.Operands[1].Value) : null;
            string bit =
                first is { } register && second is { } number
                    ? BitExplainer.OfPair(context.Device, register, number)
                    : "";
            if (bit.Length > 0)
                text.Bullet(MarkdownText.Capital(bit));
            else if (first is { } value && inner.Operands.Length == 1)
                text.Bullet($"Worth {LiteralExplainer.AllBases(value)}");
        }

        Defined(context, define, text);
        Uses(context, define, text);
    }

    private static void Valued(ExplainContext context, Symbol symbol, MarkdownText text)
    {
        string what = symbol.Kind switch
        {
            SymbolKind.Variable => "Variable",
            SymbolKind.BlockMember => "Register",
            SymbolKind.Section => "Section",
            _ => "Constant",
        };
        string value =
            !symbol.IsKnown ? "has no value that is known"
            : symbol.Kind == SymbolKind.BlockMember ? $"at {MarkdownText.Code(Show.Hex(symbol.Value, 2))}"
            : $"= {LiteralExplainer.AllBases(symbol.Value)}";
        text.Paragraph($"{what} {MarkdownText.Code(symbol.Name)} {value}");
        if (symbol.Kind == SymbolKind.Variable)
            text.Bullet("Its last value in the program; lines above may have seen another one");
        if (symbol.Kind == SymbolKind.BlockMember && symbol.IsKnown)
            Member(context, symbol, text);
        else if (symbol.IsKnown && NamesRegister(context, symbol))
            text.Bullet(
                $"As a register: {RegisterExplainer.NameOf(context.Device, symbol.Value, symbol.Value & 0x7F)}"
            );
        Defined(context, symbol, text);
        Uses(context, symbol, text);
    }

    private static void Member(ExplainContext context, Symbol member, MarkdownText text)
    {
        if (member.Size > 1)
            text.Bullet(
                $"{member.Size} registers, up to {MarkdownText.Code(Show.Hex(member.Value + member.Size - 1, 2))}"
            );
        text.Bullet(
            context.Device is null
                ? $"Bank {(member.Value >> 7) & 3}"
                : MarkdownText.Capital(RegisterExplainer.NameOf(context.Device, member.Value, member.Value & 0x7F))
        );
    }

    // A constant is shown as a register where it is as one, here or at the definition of a name of the chip.
    private static bool NamesRegister(ExplainContext context, Symbol symbol)
    {
        if (symbol.Value is < 0 or > 0x1FF || context.Device is null)
            return false;
        if (context.RoleOf(0) == OperandRole.Register && context.RegisterAddress() == symbol.Value)
            return true;
        return context.Device.DataMemory.RegisterAt(symbol.Value) is { } register
            && (
                register.Name.Equals(symbol.Name, StringComparison.OrdinalIgnoreCase)
                || register.OtherNames.Any(n => n.Equals(symbol.Name, StringComparison.OrdinalIgnoreCase))
            );
    }

    private static void Defined(ExplainContext context, Symbol symbol, MarkdownText text)
    {
        SourcePlace place = symbol.Definition;
        if (place.File is null)
            return;
        string comment =
            LineSyntax.Of(place.File.Text[place.Line]).Comment?.TrimStart(';', ' ', '\t', '-', '*', '=').Trim() ?? "";
        string says = comment.Length > 0 ? $": {MarkdownText.Escape(comment)}" : "";
        text.Bullet($"Defined in {context.PlaceOf(place)}{says}");
    }

    private static void Uses(ExplainContext context, Symbol symbol, MarkdownText text)
    {
        int uses = NameUses.Of(context.Program, symbol.Name).Total;
        text.Bullet(uses == 0 ? "Nothing uses it" : $"Used {Times(uses)}");
    }

    private static string Places(ExplainContext context, IReadOnlyList<SourcePlace> places)
    {
        string shown = string.Join(", ", places.Take(MostPlaces).Select(context.PlaceOf));
        return places.Count > MostPlaces ? $"{shown} and {places.Count - MostPlaces} more" : shown;
    }
}
