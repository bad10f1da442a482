using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;
using SymbolKind = AsmLsp.Core.Assembly.SymbolKind;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>What each token of a file is, in the numbers of the protocol.</summary>
internal static class TokenColours
{
    /// <summary>The kinds, all of them known to every client; the numbers are places in this list.</summary>
    public static SemanticTokensLegend Legend { get; } =
        new(
            [
                "keyword",
                "modifier",
                "macro",
                "function",
                "variable",
                "property",
                "enumMember",
                "parameter",
                "number",
                "string",
                "comment",
                "operator",
                "namespace",
            ],
            ["declaration", "readonly", "defaultLibrary"]
        );

    private const int Keyword = 0,
        Directive = 1,
        Macro = 2,
        Function = 3,
        Variable = 4,
        Property = 5,
        EnumMember = 6,
        Parameter = 7,
        Number = 8,
        Text = 9,
        Comment = 10,
        Sign = 11,
        Namespace = 12;
    private const int Declaration = 1,
        ReadOnly = 2,
        BuiltIn = 4;

    /// <summary>The tokens of some lines, five numbers each.</summary>
    public static int[] Of(FileView view, PositionMapper positions, int first, int last)
    {
        var data = new List<int>();
        int previousLine = 0,
            previousStart = 0;
        for (int number = first; number <= last; number++)
        {
            TextLine line = view.Text[number];
            LineRole role = view.Analysis.FactsOf(view.File, number).Role;
            LineSyntax syntax = view.Analysis.SyntaxOf(view.File, number);
            bool leftOut = (role & (LineRole.Skipped | LineRole.AfterEnd)) != 0 && !IsChoice(syntax);
            MacroScope? scope =
                (role & LineRole.Body) != 0 || syntax.OperationKind == OperationKind.Directive
                    ? MacroScope.At(view, number)
                    : null;
            for (int i = 0; i < syntax.Tokens.Length; i++)
            {
                if (KindOf(view, syntax, i, scope, role) is not var (type, modifiers))
                {
                    continue;
                }

                SyntaxToken token = syntax.Tokens[i];
                int start = positions.ToPosition(view.Text, new LinePosition(number, token.Start)).Character;
                int end = positions.ToPosition(view.Text, new LinePosition(number, token.End)).Character;
                data.Add(number - previousLine);
                data.Add(number == previousLine ? start - previousStart : start);
                data.Add(end - start);
                data.Add(leftOut ? Comment : type);
                data.Add(leftOut ? 0 : modifiers);
                (previousLine, previousStart) = (number, start);
            }
        }

        return [.. data];
    }

    private static (int Type, int Modifiers)? KindOf(
        FileView view,
        LineSyntax syntax,
        int token,
        MacroScope? scope,
        LineRole role
    )
    {
        switch (syntax.Tokens[token].Kind)
        {
            case TokenKind.Comment:
                return (Comment, 0);
            case TokenKind.Number:
                return (Number, 0);
            case TokenKind.Text or TokenKind.Character:
                return (Text, 0);
            case TokenKind.Operator or TokenKind.Here:
                return (Sign, 0);
            case TokenKind.Name:
                break;
            default:
                return null;
        }

        if (token == syntax.OperationToken)
        {
            return syntax.OperationKind switch
            {
                OperationKind.Instruction => (Keyword, 0),
                OperationKind.Unknown => (Macro, 0),
                _ => (Directive, 0),
            };
        }

        string name = syntax.TextOf(token);
        if (scope is not null && scope.Owns(name))
        {
            return (Parameter, 0);
        }

        bool isDefinition = token == syntax.LabelToken || (role & LineRole.BlockMember) != 0;
        if (view.Analysis.FindSymbol(name) is { } symbol)
        {
            int declared = isDefinition ? Declaration : 0;
            return symbol.Kind switch
            {
                SymbolKind.Label => (Function, declared),
                SymbolKind.Macro => (Macro, declared),
                SymbolKind.Constant or SymbolKind.Define => (Variable, declared | ReadOnly),
                SymbolKind.Section => (Namespace, declared),
                _ => (Variable, declared),
            };
        }

        if (view.Analysis.NamesDevice?.Symbols.FindAnyCase(name) is { } builtIn)
        {
            return builtIn.Kind switch
            {
                DeviceSymbolKind.Register => (Variable, BuiltIn),
                DeviceSymbolKind.Bit => (Property, BuiltIn),
                DeviceSymbolKind.Destination => (Keyword, 0),
                _ => (EnumMember, BuiltIn),
            };
        }

        return isDefinition ? (Function, Declaration) : null;
    }

    private static bool IsChoice(LineSyntax syntax) =>
        syntax.Has(WordTraits.Conditional) || syntax.Keyword == AsmLsp.Core.Syntax.Keyword.End;
}
