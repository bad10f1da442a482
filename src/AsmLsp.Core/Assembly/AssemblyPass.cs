using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// One walk over a program from its first line to its end. Directives and instructions work on this: it holds the
/// address, the radix, the chip, the names and what was found wrong. A program is walked until the values of its
/// names no longer change; the last walk counts.
/// </summary>
internal sealed partial class AssemblyPass
{
    public const int DeepestInclude = 64;
    public const int DeepestMacro = 128;
    public const int MostTurns = 65_536;

    private const int DeepestNesting = 256;

    private readonly IIncludeResolver includes;
    private readonly IReferenceSink? sink;
    private readonly ProgramUnit[] units;
    private readonly Stack<SourceFile> including = new();
    private readonly InstructionAssembly instructions;
    private readonly Evaluator evaluator;
    private readonly Dictionary<SourceFile, LineFacts[]>? worn;
    private int expansionCount;
    private int nesting;
    private string? missingInclude;

    // The pass before gives up its words and line facts: this one writes over them.
    public AssemblyPass(
        ProgramUnit[] units,
        SectionLayout layout,
        Dictionary<string, LineSyntax> parsedTexts,
        AssemblyWork work,
        IIncludeResolver includes,
        AssemblyOptions options,
        IReferenceSink? sink,
        AssemblyPass? before
    )
    {
        this.units = units;
        Unit = units[0];
        Layout = layout;
        ParsedTexts = parsedTexts;
        Work = work;
        work.BeginPass();
        Options = options;
        this.includes = includes;
        this.sink = sink;
        Radix = options.Radix;
        before?.Placer.Image.Clear();
        worn = before?.Facts;
        choices = before?.choices ?? [];
        Placer = new WordPlacer(this, before?.Placer.Image ?? new ProgramImage());
        Chip = new ChipContext(this, before?.Chip);
        Substitution = new Substitution(this);
        evaluator = new Evaluator(this);
        instructions = new InstructionAssembly(this);
        if (options.Chip is { } chip)
            Chip.Force(chip);
        else if (options.ProjectChip is { } project)
            Chip.Suppose(project);
    }

    public AssemblyOptions Options { get; }

    /// <summary>What the program has cost so far.</summary>
    public AssemblyWork Work { get; }

    /// <summary>The sources that the program is put together from.</summary>
    public IReadOnlyList<ProgramUnit> Units => units;

    /// <summary>The one that is read now.</summary>
    public ProgramUnit Unit { get; private set; }

    /// <summary>The names of the source that is read now.</summary>
    public SymbolTable Symbols => Unit.Symbols;

    /// <summary>What is defined from outside, as lines, or null.</summary>
    public SourceFile? Defines { get; init; }

    public SectionLayout Layout { get; }

    public ProblemBag Problems { get; } = new();

    public WordPlacer Placer { get; }

    public ChipContext Chip { get; }

    public Substitution Substitution { get; private set; }

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

    /// <summary>Whether the rest of the included file at hand is left out, because its own <c>end</c> was met.</summary>
    public bool FileEnded { get; set; }

    /// <summary>Whether a limit that guards the machine was reached, so that the program is not read to its end.</summary>
    public bool WasStopped { get; private set; }

    /// <summary>Whether the line is in a file that another one includes.</summary>
    public bool IsIncluded => including.Count > 1;

    /// <summary>Whether a macro of the program carries the name of an operation of the language.</summary>
    public bool HasOperationMacros { get; set; }

    /// <summary>Where the next block of variables without a start continues.</summary>
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

    public void Run()
    {
        sink?.BeginPass();
        foreach (ProgramUnit unit in units)
        {
            Begin(unit);
            if (Defines is not null)
                WalkLines(new LineCursor(Defines), null);
            Walk(unit.Root);
            if (OpenBlock is { } block)
                Report(Catalogue.BlockNotClosed, block, null, "block of variables", "'endc'");
            if (WasStopped)
                return;
        }
    }

    // Each source starts afresh: nothing of the one before holds but the places that are taken.
    private void Begin(ProgramUnit unit)
    {
        if (unit.Number == 0)
            return;
        Unit = unit;
        Substitution = new Substitution(this);
        Radix = Options.Radix;
        Ended = FileEnded = HasOperationMacros = false;
        OpenBlock = null;
        BlockAddress = 0;
        missingInclude = null;
        Placer.EnterUnit(DataSectionDirective.SectionOf(this, ".code", SectionKind.Code));
    }

    /// <summary>Walks over an included file; reports it where that is not possible.</summary>
    public void Include(SourceFile file, SourcePlace place, Expansion? via)
    {
        if (including.Contains(file))
        {
            string circle = string.Join(
                " includes ",
                including.Reverse().SkipWhile(f => f != file).Append(file).Select(f => f.ShortName)
            );
            Report(Catalogue.IncludeCircular, place, via, file.ShortName, circle);
            return;
        }

        if (including.Count >= DeepestInclude)
        {
            Report(
                Catalogue.LimitReached,
                place,
                via,
                $"Files include each other more than {DeepestInclude} levels deep."
            );
            return;
        }

        Walk(file);
    }

    public SourceFile? FindInclude(string name, SourceFile from) => includes.Resolve(name, from);

    public bool IsUnreadable(string name, SourceFile from) => includes.IsUnreadable(name, from);

    /// <summary>The files elsewhere in the workspace that an include may mean.</summary>
    public IReadOnlyList<string> IncludeCandidates(string name, SourceFile from) => includes.Candidates(name, from);

    /// <summary>Says that names may be unknown because what defines them is missing: a file, or what is known of a chip.</summary>
    public void NoteIncludeMissing(string source) => missingInclude ??= source;

    /// <summary>
    /// Walks over the lines of a macro's call or of one turn of a loop; a loop (<paramref name="around"/> is where it
    /// is) shares the parameters of the macro around it, and leaving the macro leaves the loop.
    /// </summary>
    public void Expand(
        IReadOnlyList<EffectiveLine> lines,
        Expansion via,
        Dictionary<string, MacroArgument>? parameters,
        bool isMacroCall,
        LineCursor? around
    ) =>
        WalkLines(
            new LineCursor(lines, via, isMacroCall ? parameters : around?.Parameters)
            {
                Around = around?.Via is null ? null : around,
            },
            null
        );

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
        if (Work.TryExpandedLine())
            return true;
        StopForWork(line);
        return false;
    }

    /// <summary>Stops reading a program that asks for more work than any listing needs.</summary>
    public void StopForWork(in EffectiveLine line)
    {
        if (!Ended)
            Stop(
                line.Via?.Outermost ?? line.OperationPlace,
                null,
                $"This makes more than {AssemblyWork.MostExpandedLines:N0} lines or {AssemblyWork.MostCharacters:N0} characters: macros, loops, defines and repeated includes are not followed any further."
            );
    }

    /// <summary>A number for each expansion, the same in every pass, for names that are new in each.</summary>
    public int NextExpansion() => ++expansionCount;

    /// <summary>Collects the lines up to the word that closes a body; null (and a report) where it is missing.</summary>
    public List<EffectiveLine>? CollectBody(in EffectiveLine opening, Keyword opens, Keyword closes)
    {
        var body = new List<EffectiveLine>();
        int depth = 1;
        while (Cursor.TryNext(out EffectiveLine line))
        {
            // A body that is in a macro gets that macro's parameters when the call is expanded, not later.
            if (Cursor.Parameters is { } parameters)
                line = Substitution.WithParameters(line, parameters);
            if (line.Syntax.Keyword == opens)
                depth++;
            else if (line.Syntax.Keyword == closes && --depth == 0)
            {
                Note(line, LineRole.None);
                Operands.ReportText(this, line);
                return body;
            }

            Note(line, LineRole.Body);
            body.Add(line);
            if (body.Count > AssemblyWork.MostExpandedLines)
                break;
        }

        Report(
            Catalogue.BlockNotClosed,
            opening.OperationPlace,
            opening.Via,
            opens == Keyword.While ? "loop" : "macro",
            $"'{OperationWords.Spell(closes)}'"
        );
        return null;
    }

    public Evaluator Evaluator => evaluator;

    public void Report(ProblemKind kind, SourcePlace place, Expansion? via, params ReadOnlySpan<string> arguments) =>
        Problems.Report(kind, place, via, arguments);

    public void Report(
        ProblemKind kind,
        SourcePlace place,
        Expansion? via,
        ReadOnlySpan<string> arguments,
        RelatedPlace related
    ) => Problems.Report(kind, place, via, arguments, related);
}
