using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Comparison;

/// <summary>A line of a reading that is part of the program.</summary>
/// <param name="Line">Its number, from 0.</param>
/// <param name="IsKnown">Whether its operation is one of the language.</param>
/// <param name="Key">What it says: label, operation and operands without blanks, comment and differences of spelling that mean nothing.</param>
internal readonly record struct ComparedLine(int Line, bool IsKnown, string Key);

/// <summary>The lines of a reading that say something, each by what it says. Lines that hold a comment alone, and text after the program's end, are left out.</summary>
internal sealed class ComparedLines
{
    private readonly ProgramAnalysis program;
    private readonly bool namesByCase,
        numbersByValue;

    private ComparedLines(ProgramAnalysis program, bool namesByCase, bool numbersByValue)
    {
        this.program = program;
        this.namesByCase = namesByCase;
        this.numbersByValue = numbersByValue;
    }

    /// <summary>The lines of two readings, keyed so that they can be compared.</summary>
    public static (List<ComparedLine> First, List<ComparedLine> Second) Of(
        ProgramAnalysis first,
        ProgramAnalysis second
    )
    {
        // Where a program says two names apart by their case, case means something.
        bool byCase = HasNamesByCase(first) || HasNamesByCase(second);
        // One that lost its 'radix' would differ at every bare number: the digits are compared then.
        bool byValue = Radices(first).SetEquals(Radices(second));
        return (new ComparedLines(first, byCase, byValue).All(), new ComparedLines(second, byCase, byValue).All());
    }

    private List<ComparedLine> All()
    {
        var lines = new List<ComparedLine>();
        SourceFile root = program.Root;
        bool ended = false;
        for (int i = 0; i < root.Text.LineCount; i++)
        {
            LineSyntax syntax = program.SyntaxOf(root, i);
            if (syntax.CodeSpan.Length == 0)
                continue;
            LineFacts facts = program.FactsOf(root, i);
            if ((facts.Role & LineRole.AfterEnd) != 0)
            {
                if (ended || syntax.Keyword != Keyword.End)
                    continue;
                ended = true;
            }

            lines.Add(
                new ComparedLine(
                    i,
                    syntax.OperationToken >= 0 && syntax.OperationKind != OperationKind.Unknown,
                    KeyOf(syntax, facts.Radix)
                )
            );
        }

        return lines;
    }

    private string KeyOf(LineSyntax syntax, int radix)
    {
        var key = new StringBuilder();
        ReadOnlySpan<SyntaxToken> tokens = syntax.AllTokens;
        if (syntax.LabelToken < 0)
            key.Append('\t');
        for (int i = 0; i < tokens.Length; i++)
        {
            SyntaxToken token = tokens[i];
            if (token.Kind is TokenKind.Blank or TokenKind.Comment || i == syntax.ColonToken)
                continue;
            if (key.Length > 0 && key[^1] != '\t')
                key.Append(' ');
            string text = syntax.Text.Substring(token.Start, token.Length);
            key.Append(
                token.Kind switch
                {
                    TokenKind.Name => i == syntax.OperationToken && !namesByCase
                        ? text.ToLowerInvariant()
                        : NameKey(text),
                    TokenKind.Number => NumberKey(text, radix),
                    _ => text,
                }
            );
            if (i == syntax.LabelToken)
                key.Append('\t');
        }

        return key.ToString();
    }

    private string NameKey(string name) => namesByCase ? name : name.ToLowerInvariant();

    private string NumberKey(string text, int radix)
    {
        LiteralReading reading = Literals.Read(text, radix);
        if (reading.Fault != LiteralFault.None || reading.IsAmbiguous || reading.Notation == LiteralNotation.Character)
            return text;
        return reading.Notation == LiteralNotation.Bare && !numbersByValue
            ? text.ToLowerInvariant()
            : reading.Value.ToString("x", CultureInfo.InvariantCulture);
    }

    private static bool HasNamesByCase(ProgramAnalysis program)
    {
        var seen = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        foreach (Symbol symbol in program.Symbols)
            if (!seen.TryAdd(symbol.Name, symbol.Name) && seen[symbol.Name] != symbol.Name)
                return true;
        return false;
    }

    private static HashSet<int> Radices(ProgramAnalysis program)
    {
        var found = new HashSet<int>();
        for (int i = 0; i < program.Root.Text.LineCount; i++)
        {
            LineFacts facts = program.FactsOf(program.Root, i);
            if ((facts.Role & LineRole.AfterEnd) == 0 && facts.Radix > 0)
                found.Add(facts.Radix);
        }

        return found;
    }
}
