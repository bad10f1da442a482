using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary>
/// A directive: a word that says how to assemble. One class and one file each; <see cref="DirectiveList"/> names them all.
/// </summary>
internal abstract class Directive
{
    /// <summary>The words that name it, in lower case.</summary>
    public abstract IReadOnlyList<string> Words { get; }

    /// <summary>How it is written, for help texts.</summary>
    public abstract string Usage { get; }

    /// <summary>What it does, in a sentence.</summary>
    public abstract string Summary { get; }

    /// <summary>Whether it takes the label for itself (as a name to define); else the label gets the address.</summary>
    public virtual bool UsesLabel => false;

    /// <summary>Whether it is followed in parts that a choice leaves out.</summary>
    public virtual bool RunsWhileSkipping => false;

    /// <summary>Whether defines are not put into its operands, because it speaks about the names themselves.</summary>
    public virtual bool KeepsOperands => false;

    /// <summary>Whether the line makes no word and keeps no place, so that a label before it is probably a mistake.</summary>
    public virtual bool IsOddAfterLabel => false;

    /// <summary>Whether the line makes words, of the program or of the EEPROM.</summary>
    public bool MakesWords => OperationWords.Has(Words[0], WordTraits.MakesWords);

    /// <summary>Does what the line says.</summary>
    public abstract void Execute(AssemblyPass pass, in EffectiveLine line);

    /// <summary>Whether the condition of a line holds; a condition without a value (which is reported) does not.</summary>
    protected static bool Holds(AssemblyPass pass, in EffectiveLine line) =>
        Condition(pass, line) is { IsKnown: true, Number: not 0 };

    /// <summary>The condition of a line; unknown where it is in error, which is reported.</summary>
    protected static Value Condition(AssemblyPass pass, in EffectiveLine line)
    {
        pass.DecidesLines = true;
        Value value = ValueAt(pass, line, 0, "a condition");
        pass.DecidesLines = false;
        pass.NoteChoice(value, line);
        return value;
    }

    /// <summary>The names in the condition of a line.</summary>
    protected static IReadOnlyList<string> NamesIn(in EffectiveLine line)
    {
        var names = new List<string>();
        LineSyntax syntax = line.Syntax;
        for (int i = syntax.FirstOperandToken; i >= 0 && i < syntax.EndOfCode; i++)
            if (syntax.Tokens[i].Kind == TokenKind.Name && !names.Contains(syntax.TextOf(i)))
                names.Add(syntax.TextOf(i));
        return names;
    }

    /// <summary>The value of an operand, or nothing where it is missing (which is reported).</summary>
    protected static Value ValueAt(AssemblyPass pass, in EffectiveLine line, int operand, string wanted)
    {
        var operands = line.Syntax.Operands;
        if (operand >= operands.Length || operands[operand].Span.Length == 0)
        {
            pass.Report(
                Problems.Catalogue.MissingOperand,
                line.OperationPlace,
                line.Via,
                line.Syntax.Operation!,
                wanted,
                DirectiveList.Find(line.Syntax)!.Usage
            );
            return Value.Unknown;
        }

        Value value = pass.Evaluate(operands[operand].Value, line);
        Operands.ReportLeftover(pass, line, operands[operand]);
        return value;
    }
}
