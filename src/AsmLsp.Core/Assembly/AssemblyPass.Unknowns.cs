using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <content>Values that cannot be worked out: none of them may become a word without an error.</content>
internal sealed partial class AssemblyPass
{
    private readonly HashSet<Symbol> definesInside = [];
    private (string Name, SourcePlace Place, Expansion? Via)? firstUnknown;
    private (SourcePlace Place, Expansion? Via)? firstWithoutValue;

    public Value Evaluate(Expression expression, in EffectiveLine line)
    {
        Value value = evaluator.Evaluate(expression, line);
        if (!value.IsKnown)
            firstWithoutValue ??= (line.Place(expression.Span), line.Via);
        return value;
    }

    /// <summary>Reports a value that nothing explains: without this a word could be wrong with no error.</summary>
    public void ReportUnexplained()
    {
        if (Problems.HasErrors)
            return;
        if (firstUnknown is { } unknown)
            Report(
                Catalogue.BadExpression,
                unknown.Place,
                unknown.Via,
                $"{unknown.Name} has no value: its definition leads back to itself."
            );
        else if (firstWithoutValue is { } missing)
            Report(Catalogue.BadExpression, missing.Place, missing.Via, "This value cannot be worked out.");
    }

    // The text of a define as one value. Its own name inside it would ask for itself without an end.
    private Value ValueOfDefine(Symbol define, SourcePlace place, Expansion? via)
    {
        if (!definesInside.Add(define))
            return NoValue($"{define.Name} has no value: its define leads back to itself.");
        try
        {
            if (define.Parameters.Count > 0)
                return NoValue($"{define.Name} is a define with parameters: its arguments are missing here.");
            if (!Substitution.TryText(define, out string text))
                return NoValue(text);
            LineSyntax inner = LineSyntax.Parse(text, LineReading.NamesOnly);
            if (inner.Operands is not [var only] || only.Leftover.Length > 0)
                return NoValue($"{define.Name} means '{define.Text}', which is not one value.");
            var map = new PieceMap();
            map.Add(0, inner.Text.Length, place.Columns);
            return evaluator.Evaluate(only.Value, new EffectiveLine(inner, place.File, place.Line, via, map));
        }
        finally
        {
            definesInside.Remove(define);
        }

        Value NoValue(string why)
        {
            Report(Catalogue.BadExpression, place, via, why);
            if (Work.IsExhausted && !Ended)
                Stop();
            return Value.Unknown;
        }
    }
}
