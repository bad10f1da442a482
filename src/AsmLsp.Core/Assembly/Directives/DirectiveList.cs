using System.Collections.Frozen;
using System.Collections.Immutable;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary>All directives, in the order in which help lists them. A test holds that nothing is missing.</summary>
internal static class DirectiveList
{
    public static ImmutableArray<Directive> All { get; } =
    [
        new EquDirective(),
        new SetDirective(),
        new AssignDirective(),
        new ConstantDirective(),
        new VariableDirective(),
        new BlockDirective(),
        new BlockEndDirective(),
        new DefineDirective(),
        new UndefineDirective(),
        new OrgDirective(),
        new ResDirective(),
        new FillDirective(),
        new DwDirective(),
        new DbDirective(),
        new DaDirective(),
        new DtDirective(),
        new DeDirective(),
        new EndDirective(),
        new ListDirective(),
        new ProcessorDirective(),
        new RadixDirective(),
        new ConfigDirective(),
        new IdWordsDirective(),
        new MemoryMapDirective(),
        new IncludeDirective(),
        new BanksDirective(),
        new IndirectBankDirective(),
        new PageSelectDirective(),
        new IfDirective(),
        new IfDefinedDirective(),
        new ElseIfDirective(),
        new ElseDirective(),
        new EndIfDirective(),
        new WhileDirective(),
        new WhileEndDirective(),
        new MacroDirective(),
        new MacroEndDirective(),
        new LocalDirective(),
        new ExitMacroDirective(),
        new ErrorDirective(),
        new MessageDirective(),
        new PageLayoutDirective(),
        new CodeSectionDirective(),
        new DataSectionDirective(),
        new LinkNamesDirective(),
    ];

    private static readonly FrozenDictionary<string, Directive>.AlternateLookup<ReadOnlySpan<char>> ByWord =
        All.SelectMany(d => d.Words, (d, word) => (d, word))
            .ToFrozenDictionary(p => p.word, p => p.d, StringComparer.OrdinalIgnoreCase)
            .GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>The directive that a line's operation names, or null.</summary>
    public static Directive? Find(LineSyntax syntax) =>
        syntax.OperationToken >= 0 && syntax.OperationKind is OperationKind.Directive or OperationKind.Assignment
            ? Find(syntax.SpanOf(syntax.OperationToken))
            : null;

    /// <summary>The directive with a word, or null.</summary>
    public static Directive? Find(ReadOnlySpan<char> word) =>
        ByWord.TryGetValue(word, out Directive? directive) ? directive : null;
}
