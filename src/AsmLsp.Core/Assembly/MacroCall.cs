using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Puts the lines of a macro in place of its call, with the arguments in place of the parameters.</summary>
internal static class MacroCall
{
    public static void Execute(AssemblyPass pass, in EffectiveLine line, Symbol macro)
    {
        SourcePlace place = line.OperationPlace;
        var via = new Expansion(macro.Name, place, line.Via);
        if (via.Depth > AssemblyPass.DeepestMacro)
        {
            SourcePlace outermost = via.Outermost;
            pass.Stop(
                outermost,
                null,
                $"Macros call each other more than {AssemblyPass.DeepestMacro} levels deep from here. Does {macro.Name} call itself without an end?"
            );
            return;
        }

        var arguments = line.Syntax.Operands;
        var values = new Dictionary<string, MacroArgument>(StringComparer.Ordinal);
        for (int i = 0; i < macro.Parameters.Count; i++)
            values[macro.Parameters[i]] =
                i < arguments.Length ? Argument(line, arguments[i]) : new MacroArgument("", null);
        if (arguments.Length > macro.Parameters.Count)
        {
            TextSpan span = TextSpan.FromBounds(arguments[macro.Parameters.Count].Span.Start, arguments[^1].Span.End);
            string takes = macro.Parameters.Count switch
            {
                0 => "nothing",
                1 => "one value",
                _ => $"{macro.Parameters.Count} values",
            };
            pass.Report(
                Catalogue.TooManyOperands,
                line.Place(span),
                line.Via,
                macro.Name,
                takes,
                line.Syntax.Text.Substring(span.Start, span.Length)
            );
        }

        pass.Expand(macro.Body!.Lines, via, values, true, null);
    }

    private static MacroArgument Argument(in EffectiveLine line, Syntax.OperandSyntax operand)
    {
        string text = operand.Text;
        SourcePlace place = line.Place(operand.Span);
        // Only an argument that is in the call to the letter can be led back column by column.
        string source = place.File.Text[place.Line].Text;
        bool isWritten =
            place.Columns.Length == text.Length
            && place.Columns.End <= source.Length
            && source.AsSpan(place.Columns.Start, text.Length).SequenceEqual(text);
        return new MacroArgument(text, isWritten ? place : null);
    }
}

/// <summary>What a parameter means in one call: the text, and where it was written, if it was written to the letter.</summary>
internal readonly record struct MacroArgument(string Text, SourcePlace? Place);
