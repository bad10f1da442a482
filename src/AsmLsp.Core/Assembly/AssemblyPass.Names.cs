using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <content>What a name is worth, and giving names their values.</content>
internal sealed partial class AssemblyPass
{
    /// <summary>The value of a name, with everything that has to be said about it.</summary>
    public Value ValueOf(string name, SourcePlace place, Expansion? via)
    {
        if (
            Symbols.TryGet(name, out Symbol? symbol)
            && symbol.Kind is not (SymbolKind.Macro or SymbolKind.Define or SymbolKind.External)
        )
        {
            sink?.Add(symbol, place, via, false);
            return ValueOf(symbol, place, via);
        }

        if (symbol is { Kind: SymbolKind.Define, ValueBefore: { } earlier } && symbol.Pass != Symbols.Pass)
        {
            // A value first, a define further down: above both lines the value is the one to look ahead to.
            sink?.Add(symbol, place, via, false);
            return earlier;
        }

        if (symbol is null && FindShared(name) is { } shared)
        {
            sink?.Add(shared, place, via, false);
            return ValueOf(shared, place, via);
        }

        if (Chip.TryValue(name, out int value))
        {
            sink?.AddBuiltIn(name, place, via);
            Chip.NoteUse(name, place, via);
            return value;
        }

        // Substitution has left it: inside its own text, or where names mean themselves.
        if (symbol is { Kind: SymbolKind.Define, Text: { Length: > 0 } } && Substitution.IsDefined(name))
            return ValueOfDefine(symbol, place, via);

        if (
            symbol is null
            && Symbols.FindByAnyCase(name)
                is { Kind: not (SymbolKind.Macro or SymbolKind.External or SymbolKind.Define) } other
        )
        {
            sink?.Add(other, place, via, false);
            Report(Catalogue.NameDiffersByCase, place, via, name, other.Name);
            return ValueOf(other, place, via);
        }

        if (symbol is null && Chip.TryValueByAnyCase(name, out string? spelling, out value))
        {
            sink?.AddBuiltIn(spelling, place, via);
            Chip.NoteUse(spelling, place, via);
            Report(Catalogue.NameDiffersByCase, place, via, name, spelling);
            return value;
        }

        Unit.Missed.Add(name);
        Symbols.NoteMissed();
        // In the first pass a name may still be defined further down.
        if (Symbols.Pass > 1)
            ReportUndefined(name, symbol, place, via);
        return Value.Unknown;
    }

    /// <summary>The name of another source that this one may use, or null.</summary>
    private Symbol? FindShared(string name)
    {
        if (units.Length == 1 || !Unit.Externals.Contains(name))
            return null;
        foreach (ProgramUnit unit in units)
            if (unit != Unit && unit.Exports.ContainsKey(name) && unit.Symbols.TryGet(name, out Symbol? symbol))
                return symbol;
        return null;
    }

    /// <summary>Says that other sources may use a name.</summary>
    public void Export(string name, SourcePlace place, Expansion? via)
    {
        foreach (ProgramUnit unit in units)
            if (unit != Unit && unit.Number < Unit.Number && unit.Exports.TryGetValue(name, out SourcePlace earlier))
                Report(
                    Catalogue.NameDefinedTwice,
                    place,
                    via,
                    [name, $"'global' in line {earlier.Line + 1} of {earlier.File.ShortName}"],
                    new RelatedPlace(earlier, "the first 'global'")
                );
        Unit.Exports.TryAdd(name, place);
        ValueOf(name, place, via);
    }

    // Where a name that no source shares is after all, for the message.
    private string HintForExternal(string name)
    {
        foreach (ProgramUnit unit in units)
            if (unit != Unit && unit.Symbols.TryGet(name, out Symbol? symbol))
                return $" It is defined in {symbol.Definition.File.ShortName}, line {symbol.Definition.Line + 1}: write 'global {name}' there.";
        return units.Length == 1
            ? " Name all files of the program on the command line, or in 'files' of relist.json."
            : " No file of the program defines it.";
    }

    private Value ValueOf(Symbol symbol, SourcePlace place, Expansion? via)
    {
        symbol.IsReferenced = true;
        if (!symbol.IsKnown)
        {
            // The definition says why, unless names are defined by each other in a circle.
            firstUnknown ??= (symbol.Name, place, via);
            return Value.Unknown;
        }

        if (DecidesLines && symbol.Pass != Symbols.Pass && symbol.Kind == SymbolKind.Label && via is not null)
            labelAhead = symbol.Name;
        else if (DecidesLines && symbol.Pass != Symbols.Pass)
            Report(Catalogue.ConditionLooksAhead, place, via, symbol.Name, PlaceOf(symbol, place));
        else if (symbol is { Kind: SymbolKind.Variable, HasSeveralValues: true } && symbol.Pass != Symbols.Pass)
            Report(
                Catalogue.ValueUsedEarly,
                place,
                via,
                symbol.Name,
                PlaceOf(symbol, place),
                Show.Hex(symbol.Value, 2)
            );
        return symbol.Value;
    }

    /// <summary>Where a name is defined, for people: its line, and its file where that is another one.</summary>
    public static string PlaceOf(Symbol symbol, SourcePlace from) =>
        $"line {symbol.Definition.Line + 1}{(symbol.Definition.File == from.File ? "" : $" of {symbol.Definition.File.ShortName}")}";

    /// <summary>Whether an operand is a name that nothing here defines, while a file is missing that may.</summary>
    public bool MayBeOfMissingFile(Expression operand) =>
        missingInclude is not null
        && operand is NameExpression { Name: var name }
        && !Symbols.TryGet(name, out _)
        && !Chip.Knows(name);

    private void ReportUndefined(string name, Symbol? symbol, SourcePlace place, Expansion? via)
    {
        if (symbol is { Kind: SymbolKind.External } || Unit.Externals.Contains(name))
        {
            Report(Catalogue.ExternalName, place, via, name, HintForExternal(name));
            return;
        }

        // The chip is one error already: one more for each of its registers would hide it.
        if (Chip.MayBeOfUnknownChip(name))
            return;
        if (missingInclude is not null)
        {
            Report(Catalogue.NameOfMissingFile, place, via, name, missingInclude);
            return;
        }

        if (symbol is { Kind: SymbolKind.Macro })
        {
            Report(Catalogue.BadExpression, place, via, $"{name} is a macro, not a value.");
            return;
        }

        if (Chip.Device is null && !Chip.IsUnknown && ChipContext.LooksLikeChipName(name))
        {
            Report(Catalogue.ChipNotNamed, place, via, name);
            return;
        }

        Report(Catalogue.UndefinedName, place, via, name, Hints.ForName(name, this));
    }

    /// <summary>Whether <c>ifdef</c> and <c>defined()</c> take a name as known at this line.</summary>
    public bool IsDefined(string name) =>
        Substitution.IsDefined(name) || Symbols.IsValueSoFar(name) || Chip.IsDefined(name);

    public bool IsMacro(string name) => FindMacro(name) is not null;

    /// <summary>The macro with a name, by case first, else the one that differs by case only.</summary>
    public Symbol? FindMacro(string name)
    {
        if (Symbols.TryGet(name, out Symbol? exact))
            return exact.Kind == SymbolKind.Macro && exact.Pass == Symbols.Pass ? exact : null;
        return Symbols.FindByAnyCase(name) is { Kind: SymbolKind.Macro } other && other.Pass == Symbols.Pass
            ? other
            : null;
    }

    public void DeclareExternal(string name) => Unit.Externals.Add(name);

    /// <summary>Gives the line's label the address of the next word.</summary>
    public void DefineLabel(in EffectiveLine line)
    {
        if (line.Syntax.Label is null)
            return;
        SymbolKind kind = Placer.IsData ? SymbolKind.BlockMember : SymbolKind.Label;
        // '#endlf': a directive of the '#' kind, misspelled. Taken for a label it would be lost without a word.
        if (line.Syntax.Label is ['#', .. var rest] && !rest.StartsWith('v'))
        {
            Report(
                Catalogue.UnknownOperation,
                line.Place(line.Syntax.LabelToken),
                line.Via,
                line.Syntax.Label,
                Hints.ForOperation(line.Syntax.Label, this)
            );
            return;
        }

        if (line.Syntax.Label is "f" or "F" or "w" or "W")
            Report(
                Catalogue.LabelNamedLikeDestination,
                line.Place(line.Syntax.LabelToken),
                line.Via,
                line.Syntax.Label
            );
        Symbol? label = Define(line.Syntax.Label, kind, Placer.Location, line.Place(line.Syntax.LabelToken), line.Via);
        if (Placer.IsData && label is not null)
            Placer.NoteLabel(label);
    }

    /// <summary>Defines a name once; a second, different definition is reported and left out.</summary>
    public Symbol? Define(string name, SymbolKind kind, Value value, SourcePlace place, Expansion? via)
    {
        Symbol symbol = Symbols.GetOrAdd(name, kind);
        if (symbol.Pass == Symbols.Pass && !IsEndedDefine(symbol))
        {
            bool same =
                symbol.Kind is SymbolKind.Constant or SymbolKind.BlockMember
                && kind is SymbolKind.Constant or SymbolKind.BlockMember
                && value.IsKnown
                && symbol.IsKnown
                && value.Number == symbol.Value;
            sink?.Add(symbol, place, via, true);
            if (same)
                return symbol;
            if (symbol.Kind == SymbolKind.Variable && kind == SymbolKind.Constant)
            {
                Symbols.Assign(symbol, value.Number, value.IsKnown);
                return symbol;
            }

            ReportTwice(symbol, place, via);
            return null;
        }

        symbol.Kind = kind;
        symbol.Definition = place;
        symbol.Via = via;
        symbol.IsReferenced |= Unit.Missed.Contains(name);
        Symbols.Assign(symbol, value.Number, value.IsKnown);
        sink?.Add(symbol, place, via, true);
        return symbol;
    }

    /// <summary>Gives a variable a value; it may have had another one before.</summary>
    public void Assign(string name, Value value, SourcePlace place, Expansion? via)
    {
        Symbol symbol = Symbols.GetOrAdd(name, SymbolKind.Variable);
        if (symbol.Pass == Symbols.Pass && !IsEndedDefine(symbol))
        {
            sink?.Add(symbol, place, via, true);
            if (symbol.Kind != SymbolKind.Variable)
            {
                bool same =
                    symbol.Kind is SymbolKind.Constant or SymbolKind.BlockMember
                    && value.IsKnown
                    && symbol.IsKnown
                    && value.Number == symbol.Value;
                if (!same)
                    ReportTwice(symbol, place, via);
                return;
            }

            Symbols.Assign(symbol, value.Number, value.IsKnown);
            return;
        }

        symbol.Kind = SymbolKind.Variable;
        symbol.Definition = place;
        symbol.Via = via;
        Symbols.Assign(symbol, value.Number, value.IsKnown);
        sink?.Add(symbol, place, via, true);
    }

    // '#undefine' makes a name free for another use.
    private bool IsEndedDefine(Symbol symbol) =>
        symbol.Kind == SymbolKind.Define && !Substitution.IsDefined(symbol.Name);

    public void ReportTwice(Symbol symbol, SourcePlace place, Expansion? via) =>
        Report(
            Catalogue.NameDefinedTwice,
            place,
            via,
            [symbol.Name, PlaceOf(symbol, place)],
            new RelatedPlace(symbol.Definition, "the first definition")
        );

    public void NoteReference(Symbol symbol, SourcePlace place, Expansion? via) => sink?.Add(symbol, place, via, false);

    public void NoteDefinition(Symbol symbol, SourcePlace place, Expansion? via) => sink?.Add(symbol, place, via, true);
}
