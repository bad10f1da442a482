using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Completing;

/// <summary>What a word is looked up as.</summary>
public enum WordTopic
{
    /// <summary>An operation of the language.</summary>
    Operation,

    /// <summary>A name of the program or the chip.</summary>
    Name,
}

/// <summary>What there is to say about a word apart from any place: for completion and the help on operands.</summary>
public static class WordDocumentation
{
    /// <summary>The documentation of a word as Markdown, or null.</summary>
    /// <param name="file">The file that it would be written in, for names of the program and its chip; null where it is not known.</param>
    /// <param name="topic">What the word is looked up as.</param>
    /// <param name="word">The word.</param>
    public static string? Of(ProgramFile? file, WordTopic topic, string word) =>
        topic == WordTopic.Operation ? OfOperation(word)
        : file is null ? null
        : OfName(file.Analysis, word);

    /// <summary>An operation: how it is written and what it does.</summary>
    public static string? OfOperation(string word)
    {
        if (InstructionSet.Find(word) is { } instruction)
        {
            string cycles =
                instruction.MaySkip ? "1 instruction cycle, 2 when it skips"
                : instruction.Cycles == 1 ? "1 instruction cycle"
                : $"{instruction.Cycles} instruction cycles";
            string flags =
                instruction.Affects == StatusFlags.None ? "no flag changes" : $"changes {Flags(instruction.Affects)}";
            return $"`{Usage(instruction.Name, instruction.OperandNames)}`\n\n{instruction.Summary}\n\n{cycles}, {flags}.";
        }

        if (Shorthand.Find(word) is { } shorthand)
        {
            string meaning = string.Join(", ", shorthand.Instructions.Select(part => part.Name.ToUpperInvariant()));
            return $"`{shorthand.Name}`\n\n{shorthand.Summary}\n\nMeans {meaning}.";
        }

        return DirectiveList.Find(word) is { } directive ? $"`{directive.Usage}`\n\n{directive.Summary}" : null;
    }

    /// <summary>How an operation is written.</summary>
    private static string Usage(string name, string operands) => operands.Length == 0 ? name : $"{name} {operands}";

    private static string? OfName(ProgramAnalysis program, string name)
    {
        if (program.FindSymbol(name) is { } symbol)
        {
            string where = MarkdownText.Escape($"{symbol.Definition}");
            string comment = LineSyntax
                .Of(symbol.Definition.File.Text[symbol.Definition.Line])
                .Comment?.TrimStart(';', ' ', '\t')
                is { Length: > 0 } said
                ? $"\n\n{MarkdownText.Escape(said)}"
                : "";
            return $"{MarkdownText.Code(name)}{(symbol.IsKnown && symbol.Kind != SymbolKind.Macro ? $" = 0x{symbol.Value:X2} ({symbol.Value})" : "")}\n\n{where}{comment}";
        }

        if (program.NamesDevice?.Symbols.Find(name) is not { } builtIn)
        {
            return null;
        }

        return builtIn.Kind switch
        {
            DeviceSymbolKind.Register =>
                $"`{name}` at 0x{builtIn.Value:X2}, bank {DataMemory.BankOf(builtIn.Value)}\n\n{builtIn.Register!.Description}",
            DeviceSymbolKind.Bit => string.Join(
                "\n\n",
                builtIn.Bits.Select(bit => $"`{bit}`, bit {bit.Number}\n\n{bit.Description}")
            ),
            DeviceSymbolKind.ConfigurationSetting =>
                $"`{name}`\n\n{builtIn.Field!.Name}: {builtIn.Setting!.Meaning}{(builtIn.Field.Note is { } note ? $"\n\n{note}" : "")}",
            _ => null,
        };
    }

    private static string Flags(StatusFlags flags)
    {
        var names = new List<string>();
        foreach (
            (StatusFlags flag, string name) in (ReadOnlySpan<(StatusFlags, string)>)
                [
                    (StatusFlags.Carry, "C"),
                    (StatusFlags.DigitCarry, "DC"),
                    (StatusFlags.Zero, "Z"),
                    (StatusFlags.TimeOut, "TO"),
                    (StatusFlags.PowerDown, "PD"),
                ]
        )
        {
            if (flags.HasFlag(flag))
            {
                names.Add(name);
            }
        }

        return string.Join(", ", names);
    }
}
