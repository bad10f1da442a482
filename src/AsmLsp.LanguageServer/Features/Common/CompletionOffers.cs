using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;
using ProgramSymbol = AsmLsp.Core.Assembly.Symbol;
using ProgramSymbolKind = AsmLsp.Core.Assembly.SymbolKind;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>One thing that can be written at a place.</summary>
/// <param name="Text">What is written.</param>
/// <param name="Kind">How clients show it.</param>
/// <param name="Detail">A few words beside it, or null.</param>
/// <param name="Rank">What fits best comes first: 0 before 1 before 2, below 100.</param>
/// <param name="Topic">What to look up for its documentation: <c>operation</c> or <c>name</c>; null for none.</param>
internal sealed record Offer(string Text, CompletionItemKind Kind, string? Detail, int Rank, string? Topic)
{
    /// <summary>What is put in, where that is more than <see cref="Text"/>.</summary>
    public string? Insert { get; init; }

    /// <summary>Words by which it is found as well, or null.</summary>
    public string? AlsoFoundBy { get; init; }
}

/// <summary>Gives what fits a place, and only that.</summary>
internal sealed class CompletionOffers(FileView view)
{
    private readonly ProgramStyle style = ProgramStyle.Of(view);
    private readonly List<Offer> offers = [];
    private readonly HashSet<string> taken = new(StringComparer.Ordinal);

    public static List<Offer> For(FileView view, CompletionPlace place)
    {
        var of = new CompletionOffers(view);
        switch (place.Kind)
        {
            case PlaceKind.Start:
                of.MissingLabels();
                of.Operations();
                break;
            case PlaceKind.Operation:
                of.Operations();
                break;
            case PlaceKind.Operand:
                of.Operand(place);
                break;
        }

        return of.offers;
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
                if (view.Analysis.FindSymbol(place.Before.Operation ?? "") is { Kind: ProgramSymbolKind.Macro })
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
                    Add(symbol.Name, CompletionItemKind.Variable, Hex(symbol.Value), 0, "name");
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
                CompletionItemKind.Keyword,
                detail,
                instruction.IsLegacy ? 2 : 0,
                "operation"
            );
        }

        foreach (ProgramSymbol macro in view.Analysis.Symbols.Where(symbol => symbol.Kind == ProgramSymbolKind.Macro))
        {
            Add(
                macro.Name,
                CompletionItemKind.Function,
                macro.Parameters.Count > 0 ? "macro " + string.Join(", ", macro.Parameters) : "macro",
                0,
                "name"
            );
        }

        foreach (Shorthand shorthand in Shorthand.All)
        {
            Add(style.Operation(shorthand.Name), CompletionItemKind.Keyword, shorthand.Summary, 1, "operation");
        }

        foreach (Directive directive in DirectiveList.All)
        {
            foreach (string word in directive.Words.Where(word => char.IsLetter(word[0]) || word[0] is '_' or '#'))
            {
                Add(style.Operation(word), CompletionItemKind.Keyword, directive.Usage, 1, "operation");
            }
        }
    }

    // Names that something jumps to and nothing defines: what a person at column 1 is about to write.
    private void MissingLabels()
    {
        foreach (Core.Problems.Problem problem in view.Analysis.Problems)
        {
            if (problem.Kind == Core.Problems.Catalogue.UndefinedName && problem.Arguments.Length > 0)
            {
                Add(problem.Arguments[0], CompletionItemKind.Function, "used, but not defined yet", 0, null);
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
                CompletionItemKind.Variable,
                $"{Hex(symbol.Value)}  {symbol.Register!.Description}".TrimEnd(),
                rank,
                "name"
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
            Add(symbol.Name, CompletionItemKind.Variable, Hex(symbol.Value), 2, "name");
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
                    CompletionItemKind.EnumMember,
                    string.Create(CultureInfo.InvariantCulture, $"bit {bit.Number}  {bit.Description}").TrimEnd(),
                    0,
                    "name"
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
        if (view.Analysis.NamesDevice is not { } device)
        {
            return null;
        }

        if (device.Symbols.FindAnyCase(name) is { Register: { } known })
        {
            return known;
        }

        return view.Analysis.FindSymbol(name) is { IsKnown: true } symbol
            ? device.DataMemory.RegisterAt(symbol.Value)
            : null;
    }

    private void Destinations()
    {
        if (style.NumberDestinations)
        {
            Add("0", CompletionItemKind.EnumMember, "the result goes to W", 0, null);
            Add("1", CompletionItemKind.EnumMember, "the result goes back to the register", 0, null);
            return;
        }

        Add(style.UpperDestinations ? "W" : "w", CompletionItemKind.EnumMember, "the result goes to W", 0, null);
        Add(
            style.UpperDestinations ? "F" : "f",
            CompletionItemKind.EnumMember,
            "the result goes back to the register",
            0,
            null
        );
    }

    private void OfList(CompletionPlace place)
    {
        string part = place.Before.Text[(place.Before.Text.LastIndexOfAny([' ', '\t', ',']) + 1)..].Trim();
        if (
            part.StartsWith("p=", StringComparison.OrdinalIgnoreCase)
            || part.StartsWith("processor=", StringComparison.OrdinalIgnoreCase)
            || place.OperandText.TrimEnd().EndsWith("p =", StringComparison.OrdinalIgnoreCase)
        )
        {
            Chips(name => name[3..].ToLowerInvariant());
        }
        else if (part.StartsWith("r=", StringComparison.OrdinalIgnoreCase))
        {
            Words("dec", "hex", "oct");
        }
        else if (part.Length == 0)
        {
            Add("p=", CompletionItemKind.Property, "the chip", 0, null);
            Add("r=", CompletionItemKind.Property, "base of bare numbers: dec, hex or oct", 0, null);
        }
    }

    private void Headers(CompletionPlace place)
    {
        bool quoted = place.OperandText.Length > 0 && place.OperandText[0] is '<' or '"';
        Chips(name => quoted ? $"p{name[3..].ToLowerInvariant()}.inc" : $"<p{name[3..].ToLowerInvariant()}.inc>");
        if (
            Path.GetDirectoryName(view.File.Name) is { Length: > 0 } folder
            && Path.IsPathFullyQualified(view.File.Name)
        )
        {
            foreach (
                string name in Host
                    .DiskView.Instance.NamesIn(folder)
                    .Where(name => Path.GetExtension(name).ToLowerInvariant() is ".inc" or ".h" or ".asm")
                    .Where(name => name != view.File.ShortName)
                    .Take(200)
            )
            {
                Add(quoted ? name : $"\"{name}\"", CompletionItemKind.File, "file beside this one", 0, null);
            }
        }
    }

    // Field by field, found by name or meaning: the field of the setting at the cursor alone, else those that the line does not set yet.
    private void Configuration(CompletionPlace place)
    {
        if (view.Analysis.Device is not { } device)
        {
            return;
        }

        var set = new HashSet<ConfigField>();
        ConfigurationWord? word = null;
        foreach (
            LineSyntax part in (ReadOnlySpan<LineSyntax>)[place.Before, LineSyntax.Parse(" __config 0" + place.After)]
        )
        {
            foreach (SyntaxToken token in part.Tokens)
            {
                if (
                    token.Kind == TokenKind.Name
                    && device.Symbols.FindAnyCase(part.Text.Substring(token.Start, token.Length)) is { } symbol
                )
                {
                    word ??= symbol.Word;
                    if (symbol.Field is { } field)
                    {
                        set.Add(field);
                    }
                }
            }
        }

        ConfigField? here = device.Symbols.FindAnyCase(place.Written)?.Field;
        // Behind a setting the sign that joins is put in as well.
        string join = place.OperandText.TrimEnd() is [.., not ('&' or '(' or ',' or '~')] ? "& " : "";
        int rank = 0;
        foreach (
            ConfigurationWord configuration in device.ConfigurationWords.Where(configuration =>
                word is null || word == configuration
            )
        )
        {
            foreach (
                ConfigField field in configuration.Fields.Where(field =>
                    here is null ? !set.Contains(field) : field == here
                )
            )
            {
                foreach (
                    ConfigSetting setting in field.Settings.Where(setting =>
                        setting.Names.Length > 0 && taken.Add(setting.Names[0])
                    )
                )
                {
                    offers.Add(
                        new(
                            setting.Names[0],
                            CompletionItemKind.EnumMember,
                            $"{field.Name}: {setting.Meaning}",
                            Math.Min(rank, 98),
                            "name"
                        )
                        {
                            Insert = join + setting.Names[0],
                            AlsoFoundBy = $"{field.Name} {setting.Meaning}",
                        }
                    );
                }

                rank++;
            }
        }

        if (device.ConfigurationWords.Length > 1 && place.Operand == 0 && place.OperandText.Length == 0)
        {
            Add("_CONFIG1", CompletionItemKind.Constant, "address of the first configuration word", 0, "name");
            Add("_CONFIG2", CompletionItemKind.Constant, "address of the second configuration word", 0, "name");
        }
    }

    private void Chips(Func<string, string> spell)
    {
        foreach (string name in DeviceCatalog.Names)
        {
            Add(spell(name), CompletionItemKind.Module, name, 1, null);
        }
    }

    private void Words(params string[] words)
    {
        foreach (string word in words)
        {
            Add(word, CompletionItemKind.Keyword, null, 1, null);
        }
    }

    private void Names(Func<ProgramSymbol, bool> fits, int rank)
    {
        foreach (ProgramSymbol symbol in view.Analysis.Symbols)
        {
            // '·' marks names that a macro's call made new: nobody can write them.
            if (!fits(symbol) || symbol.Name.Contains('·', StringComparison.Ordinal))
            {
                continue;
            }

            (CompletionItemKind kind, string? detail) = symbol.Kind switch
            {
                ProgramSymbolKind.Label => (
                    CompletionItemKind.Function,
                    symbol.IsKnown ? string.Create(CultureInfo.InvariantCulture, $"0x{symbol.Value:X4}") : null
                ),
                ProgramSymbolKind.BlockMember => (CompletionItemKind.Variable, Outline.Value(symbol)),
                ProgramSymbolKind.Variable => (CompletionItemKind.Variable, Outline.Value(symbol)),
                ProgramSymbolKind.Define => (CompletionItemKind.Constant, symbol.Text),
                _ => (CompletionItemKind.Constant, Outline.Value(symbol)),
            };
            Add(symbol.Name, kind, detail, rank, "name");
        }
    }

    private IEnumerable<DeviceSymbol> BuiltIn(DeviceSymbolKind kind) =>
        view.Analysis.NamesDevice?.Symbols.All.Where(symbol => symbol.Kind == kind) ?? [];

    private void Add(string text, CompletionItemKind kind, string? detail, int rank, string? topic)
    {
        if (taken.Add(text))
        {
            offers.Add(new(text, kind, string.IsNullOrWhiteSpace(detail) ? null : detail, rank, topic));
        }
    }

    private static string Hex(int value) => string.Create(CultureInfo.InvariantCulture, $"0x{value:X2}");
}
