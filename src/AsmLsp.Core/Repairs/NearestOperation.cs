using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Repairs;

/// <summary>Replaces an unknown operation by the nearest known one.</summary>
internal sealed class NearestOperation : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.UnknownOperation];

    internal override void Offer(FixRequest request)
    {
        string name = request.Marked;
        if (name.Length < 2 || request.Problem.Arguments[0] != name)
            return;
        IEnumerable<string> known = OperationWords.All.Concat(
            request.Program.Symbols.Where(s => s.Kind == SymbolKind.Macro).Select(s => s.Name)
        );
        if (Hints.Nearest(name, known) is not { } near)
            return;
        string spelled =
            !name.AsSpan().ContainsAnyInRange('a', 'z') && OperationWords.KindOf(near) != OperationKind.Unknown
                ? near.ToUpperInvariant()
                : near;
        // A short word is near to many: it is offered, but not taken without a person.
        request.Guess(
            $"Write {spelled}",
            name.Length >= 4 && request.Syntax.OperandSpan.Length > 0 ? Doubt.Was(name) : null,
            request.ReplaceMarked(spelled)
        );
    }
}
