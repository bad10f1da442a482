using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Names;
using SymbolKind = AsmLsp.Core.Assembly.SymbolKind;

namespace AsmLsp.Ide.Reading;

/// <summary>What a token is.</summary>
public enum TokenClass
{
    /// <summary>An instruction or shorthand, or a word that says where a result goes.</summary>
    Instruction,

    /// <summary>A directive.</summary>
    Directive,

    /// <summary>A macro, or an operation that nobody knows.</summary>
    Macro,

    /// <summary>A label.</summary>
    Label,

    /// <summary>A name for a value, a register or a text.</summary>
    Value,

    /// <summary>A bit of a register of the chip.</summary>
    Bit,

    /// <summary>Another name of the chip, such as a setting of its configuration.</summary>
    ChipName,

    /// <summary>A parameter or local name of a macro.</summary>
    Parameter,

    /// <summary>A number.</summary>
    Number,

    /// <summary>A text or a character.</summary>
    Text,

    /// <summary>A comment, or what is left out of the program.</summary>
    Comment,

    /// <summary>A sign that reckons, or the address of the line.</summary>
    Operator,

    /// <summary>A section.</summary>
    Section,
}

/// <summary>What else is true of a token.</summary>
[Flags]
public enum TokenTraits
{
    /// <summary>Nothing else.</summary>
    None = 0,

    /// <summary>The name gets its meaning here.</summary>
    Declaration = 1,

    /// <summary>Its value never changes.</summary>
    ReadOnly = 2,

    /// <summary>It is a name of the chip.</summary>
    BuiltIn = 4,
}

/// <summary>A token and what it is.</summary>
/// <param name="Line">The line, from 0.</param>
/// <param name="Columns">Where it is on the line.</param>
/// <param name="Class">What it is.</param>
/// <param name="Traits">What else is true of it.</param>
public readonly record struct ClassifiedToken(int Line, TextSpan Columns, TokenClass Class, TokenTraits Traits);

/// <summary>What each token of a file is.</summary>
public static class TokenClasses
{
    /// <summary>The tokens of some lines, in order; blanks and commas have no class.</summary>
    /// <param name="file">The file.</param>
    /// <param name="first">The first line, from 0.</param>
    /// <param name="last">The last line.</param>
    public static IEnumerable<ClassifiedToken> Of(ProgramFile file, int first, int last)
    {
        for (int number = first; number <= last; number++)
        {
            LineRole role = file.Analysis.FactsOf(file.Source, number).Role;
            LineSyntax syntax = file.Line(number);
            bool leftOut = (role & (LineRole.Skipped | LineRole.AfterEnd)) != 0 && !IsChoice(syntax);
            MacroScope? scope =
                (role & LineRole.Body) != 0 || syntax.OperationKind == OperationKind.Directive
                    ? MacroScope.At(file, number)
                    : null;
            for (int i = 0; i < syntax.Tokens.Length; i++)
            {
                if (ClassOf(file, syntax, i, scope, role) is var (kind, traits))
                {
                    yield return leftOut
                        ? new(number, syntax.Tokens[i].Span, TokenClass.Comment, TokenTraits.None)
                        : new(number, syntax.Tokens[i].Span, kind, traits);
                }
            }
        }
    }

    private static (TokenClass Class, TokenTraits Traits)? ClassOf(
        ProgramFile file,
        LineSyntax syntax,
        int token,
        MacroScope? scope,
        LineRole role
    )
    {
        switch (syntax.Tokens[token].Kind)
        {
            case TokenKind.Comment:
                return (TokenClass.Comment, TokenTraits.None);
            case TokenKind.Number:
                return (TokenClass.Number, TokenTraits.None);
            case TokenKind.Text or TokenKind.Character:
                return (TokenClass.Text, TokenTraits.None);
            case TokenKind.Operator or TokenKind.Here:
                return (TokenClass.Operator, TokenTraits.None);
            case TokenKind.Name:
                break;
            default:
                return null;
        }

        if (token == syntax.OperationToken)
        {
            return syntax.OperationKind switch
            {
                OperationKind.Instruction => (TokenClass.Instruction, TokenTraits.None),
                OperationKind.Unknown => (TokenClass.Macro, TokenTraits.None),
                _ => (TokenClass.Directive, TokenTraits.None),
            };
        }

        string name = syntax.TextOf(token);
        if (scope is not null && scope.Owns(name))
        {
            return (TokenClass.Parameter, TokenTraits.None);
        }

        bool isDefinition = token == syntax.LabelToken || (role & LineRole.BlockMember) != 0;
        if (file.Analysis.FindSymbol(name) is { } symbol)
        {
            TokenTraits declared = isDefinition ? TokenTraits.Declaration : TokenTraits.None;
            return symbol.Kind switch
            {
                SymbolKind.Label => (TokenClass.Label, declared),
                SymbolKind.Macro => (TokenClass.Macro, declared),
                SymbolKind.Constant or SymbolKind.Define => (TokenClass.Value, declared | TokenTraits.ReadOnly),
                SymbolKind.Section => (TokenClass.Section, declared),
                _ => (TokenClass.Value, declared),
            };
        }

        if (file.Analysis.NamesDevice?.Symbols.FindAnyCase(name) is { } builtIn)
        {
            return builtIn.Kind switch
            {
                DeviceSymbolKind.Register => (TokenClass.Value, TokenTraits.BuiltIn),
                DeviceSymbolKind.Bit => (TokenClass.Bit, TokenTraits.BuiltIn),
                DeviceSymbolKind.Destination => (TokenClass.Instruction, TokenTraits.None),
                _ => (TokenClass.ChipName, TokenTraits.BuiltIn),
            };
        }

        return isDefinition ? (TokenClass.Label, TokenTraits.Declaration) : null;
    }

    private static bool IsChoice(LineSyntax syntax) =>
        syntax.Has(WordTraits.Conditional) || syntax.Keyword == Keyword.End;
}
