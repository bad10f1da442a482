using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Replaces an unknown name by the nearest known one.</summary>
internal sealed class NearestName : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.UndefinedName];

    internal override void Offer(FixRequest request)
    {
        string name = request.Problem.Arguments[0];
        if (request.Marked != name || Hints.IsHexDigits(name))
            return;
        IEnumerable<string> known = request
            .Program.Symbols.Where(s => s.Kind is not (SymbolKind.Macro or SymbolKind.External))
            .Select(s => s.Name);
        if (request.Program.NamesDevice is { } device)
            known = known.Concat(device.Symbols.All.Select(s => s.Name).Where(n => Hints.MayStandFor(name, n)));
        if (Hints.Nearest(name, known) is { } near)
            request.GuessName(NameGuess.IsNear, near, name.Length >= 5 ? Doubt.Was(name) : null);
    }
}
