using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>udata</c> and its like: a section of registers.</summary>
internal sealed class DataSectionDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["udata", "udata_shr", "udata_ovr", "idata"];

    public override string Usage => "name udata address";

    public override string Summary =>
        "Starts a section of registers; 'res' gives them names. Without an address the tool places it in the first free registers.";

    public override bool UsesLabel => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        string word = line.Syntax.Operation!.ToLowerInvariant();
        if (word == "idata")
            pass.Report(
                Catalogue.UnclearData,
                line.OperationPlace,
                line.Via,
                "'idata' gives registers a value at the start, which needs program code that is not in this text. The registers get addresses here, but no values."
            );
        Enter(
            pass,
            line,
            word switch
            {
                "idata" => SectionKind.InitializedData,
                "udata_shr" => SectionKind.SharedData,
                "udata_ovr" => SectionKind.OverlaidData,
                _ => SectionKind.Data,
            }
        );
    }

    /// <summary>The section with a name and kind, new where there is none yet or where it starts elsewhere.</summary>
    public static Section SectionOf(AssemblyPass pass, string name, SectionKind kind, int? start = null)
    {
        Section? known = pass.Sections.Find(s =>
            s.Name.Equals(name, StringComparison.OrdinalIgnoreCase) && s.Kind == kind
        );
        if (known is not null && (start is null || known.Start == start))
            return known;
        known = new Section(name, kind, start ?? pass.Layout.StartOf(name, kind), start is not null);
        pass.Sections.Add(known);
        return known;
    }

    /// <summary>Continues in the section that a line names, at its address or where the layout puts it.</summary>
    public static void Enter(AssemblyPass pass, in EffectiveLine line, SectionKind kind)
    {
        string name = line.Syntax.Label ?? $".{line.Syntax.Operation!.ToLowerInvariant()}";
        bool isPlaced = line.Syntax.Operands.Length > 0;
        int start = 0;
        if (isPlaced)
        {
            Value address = ValueAt(pass, line, 0, "an address");
            if (address is { IsKnown: true, Number: < 0 or > WordPlacer.LastAddress })
            {
                pass.Report(
                    Catalogue.BadAddress,
                    line.Place(line.Syntax.Operands[0].Span),
                    line.Via,
                    Show.Hex(address.Number)
                );
                return;
            }

            start = address.Number;
        }

        Section known = SectionOf(pass, name, kind, isPlaced ? start : null);

        pass.Placer.Enter(known, kind == SectionKind.OverlaidData);
        if (line.Syntax.Label is { } label && !pass.Symbols.IsDefinedSoFar(label))
            pass.Define(label, SymbolKind.Section, known.Start, line.Place(line.Syntax.LabelToken), line.Via);
    }
}
