using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Ide.Structure;
using ProgramSymbol = AsmLsp.Core.Assembly.Symbol;
using ProgramSymbolKind = AsmLsp.Core.Assembly.SymbolKind;

namespace AsmLsp.Ide.Completing;

/// <summary>Gives what fits a place, and only that.</summary>
/// <param name="file">The file.</param>
/// <param name="filesBeside">The names of the files beside it that an include may mean; asked where they fit.</param>
internal sealed partial class CompletionOffers(ProgramFile file, Func<IEnumerable<string>> filesBeside)
{
    private readonly ProgramStyle style = ProgramStyle.Of(file);
    private readonly List<Offer> offers = [];
    private readonly HashSet<string> taken = new(StringComparer.Ordinal);

    /// <summary>The offers for a place, each text once.</summary>
    public List<Offer> For(CompletionPlace place)
    {
        switch (place.Kind)
        {
            case PlaceKind.Start:
                MissingLabels();
                Operations();
                break;
            case PlaceKind.Operation:
                Operations();
                break;
            case PlaceKind.Operand:
                Operand(place);
                break;
        }

        return offers;
    }

    private void Operand(CompletionPlace place)
    {
        OperandKind? kind = InstructionSet.Find(place.Operation)?.Operands ?? Shorthand.Find(place.Operation)?.Operands;
        if (kind is { } operands)
        {
            OfInstruction(place, operands);
            return;
        }

        switch (place.Before.Keyword)
        {
            case Keyword.List:
                OfList(place);
                break;
            case Keyword.Processor:
                Chips(name => name[3..].ToLowerInvariant());
                break;
            case Keyword.Radix:
                Words("dec", "hex", "oct");
                break;
            case Keyword.Include:
                Headers(place);
                break;
            case Keyword.Configuration:
                Configuration(place);
                break;
            case Keyword.BankSelect or Keyword.IndirectBankSelect:
                Registers(0);
                break;
            case Keyword.PageSelect:
                Labels(0);
                break;
            case Keyword.IfDefined or Keyword.IfNotDefined or Keyword.Undefine:
                Names(symbol => true, 0);
                break;
            case Keyword.Define when place.OperandText.Length == 0:
            case Keyword.Local
            or Keyword.Macro
            or Keyword.Title
            or Keyword.Message
            or Keyword.Error
            or Keyword.VariableBlock
            or Keyword.EndVariableBlock
            or Keyword.End
            or Keyword.EndMacro:
                break;
            default:
                Values();
                if (file.Analysis.FindSymbol(place.Before.Operation ?? "") is { Kind: ProgramSymbolKind.Macro })
                {
                    Registers(1);
                    Labels(1);
                }

                break;
        }
    }

    private void OfInstruction(CompletionPlace place, OperandKind operands)
    {
        if (place.Operand == 1)
        {
            if (operands == OperandKind.RegisterBit)
            {
                Bits(place);
            }
            else if (operands == OperandKind.RegisterDestination)
            {
                Destinations();
            }

            return;
        }

        if (place.Operand > 1)
        {
            return;
        }

        switch (operands)
        {
            case OperandKind.Register or OperandKind.RegisterDestination or OperandKind.RegisterBit:
                Registers(0);
                break;
            case OperandKind.TrisPort:
                foreach (
                    DeviceSymbol symbol in BuiltIn(DeviceSymbolKind.Register)
                        .Where(symbol => symbol.Value is >= 5 and <= 7)
                )
                {
                    Add(symbol.Name, OfferKind.Register, Hex(symbol.Value), 0, WordTopic.Name);
                }

                break;
            case OperandKind.Address11:
                Labels(0);
                break;
            case OperandKind.Literal8:
                Values();
                break;
        }
    }

    private void Operations()
    {
        foreach (Instruction instruction in InstructionSet.All)
        {
            string detail =
                (instruction.Operands == OperandKind.None ? "" : instruction.OperandNames + "  ") + instruction.Summary;
            Add(
                style.Operation(instruction.Name),
                OfferKind.Word,
                detail,
                instruction.IsLegacy ? 2 : 0,
                WordTopic.Operation
            );
        }

        foreach (ProgramSymbol macro in file.Analysis.Symbols.Where(symbol => symbol.Kind == ProgramSymbolKind.Macro))
        {
            Add(
                macro.Name,
                OfferKind.Macro,
                macro.Parameters.Count > 0 ? "macro " + string.Join(", ", macro.Parameters) : "macro",
                0,
                WordTopic.Name
            );
        }

        foreach (Shorthand shorthand in Shorthand.All)
        {
            Add(style.Operation(shorthand.Name), OfferKind.Word, shorthand.Summary, 1, WordTopic.Operation);
        }

        foreach (Directive directive in DirectiveList.All)
        {
            foreach (string word in directive.Words.Where(word => char.IsLetter(word[0]) || word[0] is '_' or '#'))
            {
                Add(style.Operation(word), OfferKind.Word, directive.Usage, 1, WordTopic.Operation);
            }
        }
    }

    // Names that something jumps to and nothing defines: what a person at column 1 is about to write.
    private void MissingLabels()
    {
        foreach (Problem problem in file.Analysis.Problems)
        {
            if (problem.Kind == Catalogue.UndefinedName && problem.Arguments.Length > 0)
            {
                Add(problem.Arguments[0], OfferKind.Label, "used, but not defined yet", 0, null);
            }
        }
    }

    private void Registers(int rank)
    {
        Names(symbol => symbol.Kind is ProgramSymbolKind.BlockMember, rank);
        Names(
            symbol =>
                symbol.Kind is ProgramSymbolKind.Constant or ProgramSymbolKind.Variable or ProgramSymbolKind.Define,
            rank
        );
        foreach (DeviceSymbol symbol in BuiltIn(DeviceSymbolKind.Register))
        {
            Add(
                symbol.Name,
                OfferKind.Register,
                $"{Hex(symbol.Value)}  {symbol.Register!.Description}".TrimEnd(),
                rank,
                WordTopic.Name
            );
        }
    }

    private void Labels(int rank) => Names(symbol => symbol.Kind == ProgramSymbolKind.Label, rank);

    private void Values()
    {
        Names(
            symbol =>
                symbol.Kind is ProgramSymbolKind.Constant or ProgramSymbolKind.Variable or ProgramSymbolKind.Define,
            0
        );
        Names(symbol => symbol.Kind is ProgramSymbolKind.BlockMember or ProgramSymbolKind.Label, 1);
        foreach (DeviceSymbol symbol in BuiltIn(DeviceSymbolKind.Register))
        {
            Add(symbol.Name, OfferKind.Register, Hex(symbol.Value), 2, WordTopic.Name);
        }

        Words("high", "low");
    }

    private void Bits(CompletionPlace place)
    {
        if (place.Before.Operands is { Length: > 0 } operands && RegisterMeant(operands[0].Text) is { } register)
        {
            foreach (BitField bit in register.Bits)
            {
                Add(
                    bit.Spellings[0],
                    OfferKind.Bit,
                    string.Create(CultureInfo.InvariantCulture, $"bit {bit.Number}  {bit.Description}").TrimEnd(),
                    0,
                    WordTopic.Name
                );
            }
        }

        // A program may name the bits of its own registers and pins.
        Names(
            symbol =>
                symbol.Kind is ProgramSymbolKind.Constant or ProgramSymbolKind.Define
                && (!symbol.IsKnown || symbol.Value is >= 0 and <= 7),
            1
        );
        if (offers.Count == 0)
        {
            Words("0", "1", "2", "3", "4", "5", "6", "7");
        }
    }

    private Register? RegisterMeant(string name)
    {
        if (file.Analysis.NamesDevice is not { } device)
        {
            return null;
        }

        if (device.Symbols.FindAnyCase(name) is { Register: { } known })
        {
            return known;
        }

        return file.Analysis.FindSymbol(name) is { IsKnown: true } symbol
            ? device.DataMemory.RegisterAt(symbol.Value)
            : null;
    }

    private void Destinations()
    {
        if (style.NumberDestinations)
        {
            Add("0", OfferKind.Destination, "the result goes to W", 0, null);
            Add("1", OfferKind.Destination, "the result goes back to the register", 0, null);
            return;
        }

        Add(style.UpperDestinations ? "W" : "w", OfferKind.Destination, "the result goes to W", 0, null);
        Add(
            style.UpperDestinations ? "F" : "f",
            OfferKind.Destination,
            "the result goes back to the register",
            0,
            null
        );
    }

    private void Words(params string[] words)
    {
        foreach (string word in words)
        {
            Add(word, OfferKind.Word, null, 1, null);
        }
    }

    private void Names(Func<ProgramSymbol, bool> fits, int rank)
    {
        foreach (ProgramSymbol symbol in file.Analysis.Symbols)
        {
            // '·' marks names that a macro's call made new: nobody can write them.
            if (!fits(symbol) || symbol.Name.Contains('·', StringComparison.Ordinal))
            {
                continue;
            }

            (OfferKind kind, string? detail) = symbol.Kind switch
            {
                ProgramSymbolKind.Label => (
                    OfferKind.Label,
                    symbol.IsKnown ? string.Create(CultureInfo.InvariantCulture, $"0x{symbol.Value:X4}") : null
                ),
                ProgramSymbolKind.BlockMember => (OfferKind.Register, Outline.Value(symbol)),
                ProgramSymbolKind.Variable => (OfferKind.Register, Outline.Value(symbol)),
                ProgramSymbolKind.Define => (OfferKind.Constant, symbol.Text),
                _ => (OfferKind.Constant, Outline.Value(symbol)),
            };
            Add(symbol.Name, kind, detail, rank, WordTopic.Name);
        }
    }

    private IEnumerable<DeviceSymbol> BuiltIn(DeviceSymbolKind kind) =>
        file.Analysis.NamesDevice?.Symbols.All.Where(symbol => symbol.Kind == kind) ?? [];

    private void Add(string text, OfferKind kind, string? detail, int rank, WordTopic? topic)
    {
        if (taken.Add(text))
        {
            offers.Add(new(text, kind, string.IsNullOrWhiteSpace(detail) ? null : detail, rank, topic));
        }
    }

    private static string Hex(int value) => string.Create(CultureInfo.InvariantCulture, $"0x{value:X2}");
}
