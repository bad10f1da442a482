using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings.Parts;

/// <summary>A line that sets a configuration word, with the word that it makes.</summary>
internal sealed record ConfigurationLine(Device Device, ConfigurationWord Word, int Value, OperandSyntax Operand)
{
    /// <summary>The configuration line at the cursor, or null where it is none, or is in doubt.</summary>
    public static ConfigurationLine? At(RefactoringRequest request)
    {
        if (!request.IsOneLine || !request.IsPlain(request.FirstLine))
            return null;
        LineSyntax syntax = request.Syntax(request.FirstLine);
        if (syntax.Keyword != Keyword.Configuration)
            return null;
        LineFacts facts = request.Facts(request.FirstLine);
        if (
            request.Program.Device is not { } device
            || device != request.Program.NamesDevice
            || syntax.Operands.Length is 0 or > 2
            || facts.Words != 1
        )
            return null;
        ConfigurationWord? word = device.ConfigurationWords.FirstOrDefault(w => w.Address == facts.Address);
        if (
            word is null
            || !request.Program.Image.TryGet(facts.Address, out ushort value, out WordOrigin origin)
            || origin.File != request.File
            || origin.Line != request.FirstLine
        )
            return null;
        return new ConfigurationLine(device, word, value, syntax.Operands[^1]);
    }

    /// <summary>
    /// The word as the names of its settings joined by <c>&amp;</c>; bits that no name says follow as a number. Null where names can't make it.
    /// </summary>
    public string? ByNames(ProgramNames names)
    {
        int made = 0x3FFF;
        var parts = new List<string>();
        foreach (DecodedField field in Word.Decode(Value))
        {
            foreach (string name in field.Setting?.Names ?? [])
            {
                if (
                    Device.Symbols.Find(name) is not { Kind: DeviceSymbolKind.ConfigurationSetting } symbol
                    || symbol.Word != Word
                    || !names.IsBuiltIn(name)
                )
                    continue;
                made &= symbol.Value;
                parts.Add(name);
                break;
            }
        }

        if (parts.Count == 0 || (made & Value) != Value)
            return null;
        int rest = made & ~Value;
        if (rest != 0)
            parts.Add(Show.Hex(0x3FFF & ~rest));
        return string.Join(" & ", parts);
    }

    /// <summary>Each field with what it is set to, for people.</summary>
    public IEnumerable<string> Meanings()
    {
        foreach (DecodedField field in Word.Decode(Value))
            yield return $"{field.Field.Name}: {field.Meaning}";
    }
}

/// <summary>Decides whether a name means what the chip means by it.</summary>
internal sealed class ProgramNames(ProgramAnalysis program)
{
    /// <summary>Whether the program gives the name no meaning of its own.</summary>
    public bool IsBuiltIn(string name) => program.FindSymbol(name) is null;
}
