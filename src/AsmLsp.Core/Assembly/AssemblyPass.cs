using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// One walk over a program from its first line to its end. Directives and instructions work on this: it holds the
/// address, the radix, the chip, the names and what was found wrong. A program is walked until the values of its
/// names stand still; the last walk counts.
/// </summary>
internal sealed partial class AssemblyPass
{
    public const int DeepestInclude = 64;
    public const int DeepestMacro = 128;
    public const int MostTurns = 65_536;
    public const int MostExpandedLines = 1_000_000;

    private readonly IIncludeResolver includes;
    private readonly IReferenceSink? sink;
    private readonly HashSet<string> missed;
    private readonly Stack<SourceFile> including = new();
    private readonly InstructionAssembly instructions;
    private readonly Evaluator evaluator;
    private readonly HashSet<string> externals = new(StringComparer.Ordinal);
    private int expandedLines;
    private int expansionCount;
    private bool includeMissing;

    public AssemblyPass(SymbolTable symbols, SectionLayout layout, HashSet<string> missed, Dictionary<string, LineSyntax> parsedTexts,
        IIncludeResolver includes, AssemblyOptions options, IReferenceSink? sink)
    {
        Symbols = symbols;
        Layout = layout;
        ParsedTexts = parsedTexts;
        Options = options;
        this.missed = missed;
        this.includes = includes;
        this.sink = sink;
        Radix = options.Radix;
        Placer = new WordPlacer(this);
        Chip = new ChipContext(this);
        Substitution = new Substitution(this);
        evaluator = new Evaluator(this);
        instructions = new InstructionAssembly(this);
        if (options.Device is { } device) Chip.Force(device);
        else if (options.ProjectDevice is { } project) Chip.Suppose(project);
    }

    public AssemblyOptions Options { get; }

    public SymbolTable Symbols { get; }

    public SectionLayout Layout { get; }

    public ProblemBag Problems { get; } = new();

    public WordPlacer Placer { get; }

    public ChipContext Chip { get; }

    public Substitution Substitution { get; }

    public ConditionStack Conditions { get; } = new();

    /// <summary>Lines made by substitution, parsed once for all passes.</summary>
    public Dictionary<string, LineSyntax> ParsedTexts { get; }

    public List<Section> Sections { get; } = [];

    /// <summary>Registers that the program itself gave addresses to, by blocks of variables.</summary>
    public HashSet<int> UsedRegisters { get; } = [];

    /// <summary>Base of bare numbers.</summary>
    public int Radix { get; set; }

    /// <summary>Whether no further line is read: <c>end</c> was met, or a limit was reached.</summary>
    public bool Ended { get; set; }

    /// <summary>Whether <c>end</c> was met.</summary>
    public bool HasEnd { get; set; }

    /// <summary>Whether the rest of the included file at hand is left out, because its own <c>end</c> was met.</summary>
    public bool FileEnded { get; set; }

    /// <summary>Whether a limit that guards the machine was reached, so that the program is not read to its end.</summary>
    public bool WasStopped { get; private set; }

    /// <summary>Whether the line stands in a file that another one includes.</summary>
    public bool IsIncluded => including.Count > 1;

    /// <summary>Whether a macro of the program carries the name of an operation of the language.</summary>
    public bool HasOperationMacros { get; set; }

    /// <summary>Where the next block of variables without a start goes on.</summary>
    public int BlockAddress { get; set; }

    /// <summary>The block of variables that is open, or null.</summary>
    public SourcePlace? OpenBlock { get; set; }

    /// <summary>The lines that are walked now; directives that span lines move it on.</summary>
    public LineCursor Cursor { get; private set; } = null!;

    /// <summary>The choices below this depth belong to the lines outside.</summary>
    public int ConditionFloor { get; private set; }

    /// <summary>All files met, the root first.</summary>
    public List<SourceFile> Files { get; } = [];

    public Dictionary<SourceFile, LineFacts[]> Facts { get; } = [];

    /// <summary>How many more names are searched for their nearest: a text that is no program must not cost a second.</summary>
    public int HintsLeft { get; set; } = 100;

    /// <summary>What was included, with the place of the name: the file, or the chip's built-in names.</summary>
    public List<IncludeUse> Includes { get; } = [];

    /// <summary>Whether the value that is worked out decides which lines count.</summary>
    public bool DecidesLines { get; set; }

    /// <summary>The role of the line at hand, beside what its words say.</summary>
    public LineRole Role { get; set; }

    public void Run(SourceFile root)
    {
        sink?.BeginPass();
        Walk(root);
        if (OpenBlock is { } block) Report(Catalogue.BlockNotClosed, block, null, "block of variables", "'endc'");
    }

    /// <summary>Walks over an included file; reports it where that is not possible.</summary>
    public void Include(SourceFile file, SourcePlace place, Expansion? via)
    {
        if (including.Contains(file))
        {
            string circle = string.Join(" includes ", including.Reverse().SkipWhile(f => f != file).Append(file).Select(f => f.ShortName));
            Report(Catalogue.IncludeCircular, place, via, file.ShortName, circle);
            return;
        }

        if (including.Count >= DeepestInclude)
        {
            Report(Catalogue.LimitReached, place, via, $"Files include each other more than {DeepestInclude} levels deep.");
            return;
        }

        Walk(file);
    }

    public SourceFile? FindInclude(string name, SourceFile from) => includes.Resolve(name, from);

    /// <summary>Says that names may be unknown because a file is missing: they are reported once, not each.</summary>
    public void NoteIncludeMissing() => includeMissing = true;

    /// <summary>
    /// Walks over the lines of a macro's call or of one turn of a loop; a loop (<paramref name="around"/> is where it
    /// stands) shares the parameters of the macro around it, and leaving the macro leaves the loop.
    /// </summary>
    public void Expand(IReadOnlyList<EffectiveLine> lines, Expansion via, Dictionary<string, MacroArgument>? parameters, bool isMacroCall, LineCursor? around) =>
        WalkLines(new LineCursor(lines, via, isMacroCall ? parameters : around?.Parameters) { Around = around?.Via is null ? null : around }, null);

    /// <summary>Stops reading at a limit that guards the machine; the place is the line that started what went too far.</summary>
    public void Stop(SourcePlace place, Expansion? via, string why)
    {
        Report(Catalogue.LimitReached, place, via, why);
        Stop();
    }

    /// <summary>Stops reading; the cause has been reported.</summary>
    public void Stop() => Ended = WasStopped = true;

    /// <summary>Counts a line that is read again, or a turn of a loop; false where that was one too many.</summary>
    public bool CountExpanded(in EffectiveLine line)
    {
        if (++expandedLines <= MostExpandedLines) return true;
        if (!Ended)
            Stop(line.Via?.Outermost ?? line.OperationPlace, null, $"This makes more than {MostExpandedLines:N0} lines: macros, loops and repeated includes are not followed any further.");
        return false;
    }

    /// <summary>A number for each expansion, the same in every pass, for names that are new in each.</summary>
    public int NextExpansion() => ++expansionCount;

    /// <summary>Collects the lines up to the word that closes a body; null (and a report) where it is missing.</summary>
    public List<EffectiveLine>? CollectBody(in EffectiveLine opening, string opens, string closes)
    {
        var body = new List<EffectiveLine>();
        int depth = 1;
        while (Cursor.TryNext(out EffectiveLine line))
        {
            // A body that stands in a macro gets that macro's parameters when the call is expanded, not later.
            if (Cursor.Parameters is { } parameters) line = Substitution.WithParameters(line, parameters);
            if (IsWord(line.Syntax, opens)) depth++;
            else if (IsWord(line.Syntax, closes) && --depth == 0)
            {
                Note(line, LineRole.None);
                Operands.ReportText(this, line);
                return body;
            }

            Note(line, LineRole.Body);
            body.Add(line);
            if (body.Count > MostExpandedLines) break;
        }

        Report(Catalogue.BlockNotClosed, opening.OperationPlace, opening.Via, opens == "while" ? "loop" : "macro", $"'{closes}'");
        return null;
    }

    public Value Evaluate(Expression expression, in EffectiveLine line) => evaluator.Evaluate(expression, line);

    public Evaluator Evaluator => evaluator;

    /// <summary>The value of a name, with everything that has to be said about it.</summary>
    public Value ValueOf(string name, SourcePlace place, Expansion? via)
    {
        if (Symbols.TryGet(name, out Symbol? symbol) && symbol.Kind is not (SymbolKind.Macro or SymbolKind.Define or SymbolKind.External))
        {
            sink?.Add(symbol, place, via, false);
            return ValueOf(symbol, place, via);
        }

        if (Chip.TryValue(name, out int value))
        {
            sink?.AddBuiltIn(name, place, via);
            Chip.NoteUse(name, place, via);
            return value;
        }

        if (symbol is { Kind: SymbolKind.Define, Text: { Length: > 0 } text } && Substitution.IsDefined(name))
        {
            // A define used where no substitution was made, as inside '#v()'.
            LineSyntax inner = LineSyntax.Parse(" dw " + text);
            var map = new PieceMap();
            map.Add(0, inner.Text.Length, place.Columns);
            if (inner.Operands.Length == 1 && inner.Operands[0].Value is not NameExpression { Name: var self } || symbol.Name != text)
                return evaluatorDepth++ < DeepestInclude ? Leave(Evaluate(inner.Operands[0].Value, new EffectiveLine(inner, place.File, place.Line, via, map))) : Leave(Value.Unknown);
        }

        if (symbol is null && Symbols.FindByAnyCase(name) is { Kind: not (SymbolKind.Macro or SymbolKind.External or SymbolKind.Define) } other)
        {
            sink?.Add(other, place, via, false);
            Report(Catalogue.NameDiffersByCase, place, via, name, other.Name);
            return ValueOf(other, place, via);
        }

        if (symbol is null && Chip.TryValueByAnyCase(name, out string? spelling, out value))
        {
            sink?.AddBuiltIn(spelling, place, via);
            Chip.NoteUse(spelling, place, via);
            Report(Catalogue.NameDiffersByCase, place, via, name, spelling);
            return value;
        }

        missed.Add(name);
        Symbols.NoteMissed();
        // In the first pass a name may still be defined further down.
        if (Symbols.Pass > 1) ReportUndefined(name, symbol, place, via);
        return Value.Unknown;
    }

    private Value ValueOf(Symbol symbol, SourcePlace place, Expansion? via)
    {
        symbol.IsReferenced = true;
        if (!symbol.IsKnown)
        {
            // The definition says why, unless names are defined by each other in a circle.
            firstUnknown ??= (symbol.Name, place, via);
            return Value.Unknown;
        }

        if (DecidesLines && symbol.Pass != Symbols.Pass)
            Report(Catalogue.ConditionLooksAhead, place, via, symbol.Name, PlaceOf(symbol, place));
        else if (symbol is { Kind: SymbolKind.Variable, HasSeveralValues: true } && symbol.Pass != Symbols.Pass)
            Report(Catalogue.ValueUsedEarly, place, via, symbol.Name, PlaceOf(symbol, place), Show.Hex(symbol.Value, 2));
        return symbol.Value;
    }

    /// <summary>Reports a name whose value nothing explains: without this a word could be wrong with no error.</summary>
    public void ReportUnexplained()
    {
        if (firstUnknown is not { } unknown || Problems.HasErrors) return;
        Report(Catalogue.BadExpression, unknown.Place, unknown.Via, $"{unknown.Name} has no value: its definition leads back to itself.");
    }

    /// <summary>Where a name is defined, for people: its line, and its file where that is another one.</summary>
    public static string PlaceOf(Symbol symbol, SourcePlace from) =>
        $"line {symbol.Definition.Line + 1}{(symbol.Definition.File == from.File ? "" : $" of {symbol.Definition.File.ShortName}")}";

    private (string Name, SourcePlace Place, Expansion? Via)? firstUnknown;
    private int evaluatorDepth;

    private Value Leave(Value value)
    {
        evaluatorDepth--;
        return value;
    }

    private void ReportUndefined(string name, Symbol? symbol, SourcePlace place, Expansion? via)
    {
        if (symbol is { Kind: SymbolKind.External } || externals.Contains(name))
        {
            Report(Catalogue.ExternalName, place, via, name);
            return;
        }

        if (includeMissing) return; // The missing file is the cause, and it is reported.
        if (symbol is { Kind: SymbolKind.Macro })
        {
            Report(Catalogue.BadExpression, place, via, $"{name} is a macro, not a value.");
            return;
        }

        if (Chip.Device is null && !Chip.IsUnknown && ChipContext.LooksLikeChipName(name))
        {
            Report(Catalogue.ChipNotNamed, place, via, name);
            return;
        }

        Report(Catalogue.UndefinedName, place, via, name, Hints.ForName(name, this));
    }

    /// <summary>Whether <c>ifdef</c> and <c>defined()</c> take a name as known at this line.</summary>
    public bool IsDefined(string name) =>
        Substitution.IsDefined(name) || Symbols.IsValueSoFar(name) || Chip.IsDefined(name);

    public bool IsMacro(string name) => FindMacro(name) is not null;

    /// <summary>The macro with a name, by case first, else the one that differs by case only.</summary>
    public Symbol? FindMacro(string name)
    {
        if (Symbols.TryGet(name, out Symbol? exact)) return exact.Kind == SymbolKind.Macro && exact.Pass == Symbols.Pass ? exact : null;
        return Symbols.FindByAnyCase(name) is { Kind: SymbolKind.Macro } other && other.Pass == Symbols.Pass ? other : null;
    }

    public void DeclareExternal(string name) => externals.Add(name);

    /// <summary>Gives the line's label the address of the next word.</summary>
    public void DefineLabel(in EffectiveLine line)
    {
        if (line.Syntax.Label is null) return;
        SymbolKind kind = Placer.IsData ? SymbolKind.BlockMember : SymbolKind.Label;
        // '#endlf': a directive of the '#' kind, misspelled. Taken for a label it would be lost without a word.
        if (line.Syntax.Label is ['#', .. var rest] && !rest.StartsWith('v'))
        {
            Report(Catalogue.UnknownOperation, line.Place(line.Syntax.LabelToken), line.Via, line.Syntax.Label, Hints.ForOperation(line.Syntax.Label, this));
            return;
        }

        Define(line.Syntax.Label, kind, Placer.Location, line.Place(line.Syntax.LabelToken), line.Via);
    }

    /// <summary>Defines a name once; a second, different definition is reported and left out.</summary>
    public Symbol? Define(string name, SymbolKind kind, Value value, SourcePlace place, Expansion? via)
    {
        Symbol symbol = Symbols.GetOrAdd(name, kind);
        if (symbol.Pass == Symbols.Pass && !IsEndedDefine(symbol))
        {
            bool same = symbol.Kind is SymbolKind.Constant or SymbolKind.BlockMember && kind is SymbolKind.Constant or SymbolKind.BlockMember
                && value.IsKnown && symbol.IsKnown && value.Number == symbol.Value;
            sink?.Add(symbol, place, via, true);
            if (same) return symbol;
            if (symbol.Kind == SymbolKind.Variable && kind == SymbolKind.Constant)
            {
                Symbols.Assign(symbol, value.Number, value.IsKnown);
                return symbol;
            }

            ReportTwice(symbol, place, via);
            return null;
        }

        symbol.Kind = kind;
        symbol.Definition = place;
        symbol.Via = via;
        symbol.IsReferenced |= missed.Contains(name);
        Symbols.Assign(symbol, value.Number, value.IsKnown);
        sink?.Add(symbol, place, via, true);
        return symbol;
    }

    /// <summary>Gives a variable a value; it may have had another one before.</summary>
    public void Assign(string name, Value value, SourcePlace place, Expansion? via)
    {
        Symbol symbol = Symbols.GetOrAdd(name, SymbolKind.Variable);
        if (symbol.Pass == Symbols.Pass && !IsEndedDefine(symbol))
        {
            sink?.Add(symbol, place, via, true);
            if (symbol.Kind != SymbolKind.Variable)
            {
                bool same = symbol.Kind is SymbolKind.Constant or SymbolKind.BlockMember && value.IsKnown && symbol.IsKnown && value.Number == symbol.Value;
                if (!same) ReportTwice(symbol, place, via);
                return;
            }

            Symbols.Assign(symbol, value.Number, value.IsKnown);
            return;
        }

        symbol.Kind = SymbolKind.Variable;
        symbol.Definition = place;
        symbol.Via = via;
        Symbols.Assign(symbol, value.Number, value.IsKnown);
        sink?.Add(symbol, place, via, true);
    }

    // '#undefine' makes a name free for another use.
    private bool IsEndedDefine(Symbol symbol) => symbol.Kind == SymbolKind.Define && !Substitution.IsDefined(symbol.Name);

    public void ReportTwice(Symbol symbol, SourcePlace place, Expansion? via) =>
        Report(Catalogue.NameDefinedTwice, place, via, [symbol.Name, PlaceOf(symbol, place)], new RelatedPlace(symbol.Definition, "the first definition"));

    public void NoteReference(Symbol symbol, SourcePlace place, Expansion? via) => sink?.Add(symbol, place, via, false);

    public void NoteDefinition(Symbol symbol, SourcePlace place, Expansion? via) => sink?.Add(symbol, place, via, true);

    public void Report(ProblemKind kind, SourcePlace place, Expansion? via, params ReadOnlySpan<string> arguments) => Problems.Report(kind, place, via, arguments);

    public void Report(ProblemKind kind, SourcePlace place, Expansion? via, ReadOnlySpan<string> arguments, RelatedPlace related) =>
        Problems.Report(kind, place, via, arguments, related);
}
