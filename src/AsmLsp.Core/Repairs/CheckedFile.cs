using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>What the problems of the assembly say about one line.</summary>
[Flags]
internal enum Trouble
{
    None = 0,
    Error = 1,
    UnknownOperation = 2,
    Leftover = 4,
    UndefinedName = 8,
    DefinedTwice = 16,
    Other = 32,
}

/// <summary>
/// A file as the checks of printed text see it: the lines that could be anything else than plain code, with what
/// assembling said about them. Plain lines cost one look each.
/// </summary>
internal sealed class CheckedFile
{
    private readonly Dictionary<int, Trouble> trouble = [];
    private readonly Dictionary<int, Finding> explained = [];
    private readonly Dictionary<int, int> definedElsewhere = [];
    private Dictionary<string, (SourceFile File, int Line)?>? missing;
    private Trouble everywhere;

    public CheckedFile(ProgramAnalysis program, SourceFile file)
    {
        Program = program;
        File = file;
        foreach (Problem problem in program.Problems)
        {
            if (problem.Place.File != file || problem.Severity == Severity.Information)
                continue;
            Trouble kind =
                problem.Kind == Catalogue.UnknownOperation || problem.Kind == Catalogue.NotAnOperation
                    ? Trouble.UnknownOperation
                : problem.Kind == Catalogue.TextAfterOperands ? Trouble.Leftover
                : problem.Kind == Catalogue.UndefinedName || problem.Kind == Catalogue.ChipNotNamed
                    ? Trouble.UndefinedName
                : problem.Kind == Catalogue.NameDefinedTwice ? Trouble.DefinedTwice
                : Trouble.Other;
            if (problem.Severity == Severity.Error)
                kind |= Trouble.Error;
            if (
                kind.HasFlag(Trouble.DefinedTwice)
                && problem.Related.Length > 0
                && problem.Related[0].Place.File == file
            )
            {
                definedElsewhere.TryAdd(problem.Place.Line, problem.Related[0].Place.Line);
                definedElsewhere.TryAdd(problem.Related[0].Place.Line, problem.Place.Line);
            }

            everywhere |= kind;
            trouble[problem.Place.Line] = trouble.GetValueOrDefault(problem.Place.Line) | kind;
        }

        const LineTraits suspicious =
            LineTraits.Unusual
            | LineTraits.EndsOpen
            | LineTraits.StartsInside
            | LineTraits.Doubt
            | LineTraits.OddDigits
            | LineTraits.Prose
            | LineTraits.End
            | LineTraits.NumberOnly
            | LineTraits.FormFeed
            | LineTraits.SecondOperation;
        int number = 0;
        foreach (TextLine line in file.Text.Lines)
        {
            LineShape shape = LineShape.Of(line);
            LineTraits traits = shape.Traits;
            bool plain =
                (traits & suspicious) == 0
                && (traits & (LineTraits.CodeLike | LineTraits.Blank | LineTraits.CommentOnly)) != 0;
            if (!plain || (trouble.Count > 0 && trouble.ContainsKey(number)))
                Lines.Add((number, shape));
            number++;
        }
    }

    public ProgramAnalysis Program { get; }

    public SourceFile File { get; }

    /// <summary>The lines worth a closer look, in order.</summary>
    public List<(int Line, LineShape Shape)> Lines { get; } = [];

    /// <summary>What has been found so far.</summary>
    public List<Finding> Findings { get; } = [];

    public int LineCount => File.Text.LineCount;

    public LineShape Shape(int line) => LineShape.Of(File.Text[line]);

    public LineSyntax Syntax(int line) => LineSyntax.Of(File.Text[line]);

    public string TextOf(int line) => File.Text[line].Text;

    /// <summary>A line without its comment and the blanks around its code.</summary>
    public string CodeOf(int line) => TextOf(line).Substring(Syntax(line).CodeSpan.Start, Syntax(line).CodeSpan.Length);

    public LineRole Role(int line) => Program.FactsOf(File, line).Role;

    public int Words(int line) => Program.FactsOf(File, line).Words;

    /// <summary>What assembling said about a line.</summary>
    public Trouble TroubleOf(int line) => trouble.GetValueOrDefault(line);

    /// <summary>The other line that defines a name which this line defines; -1 where there is none.</summary>
    public int OtherDefinition(int line) => definedElsewhere.GetValueOrDefault(line, -1);

    public bool IsExplained(int line) => explained.ContainsKey(line);

    /// <summary>Whether a line is read at all: not after the end, not left out by a choice, not the inside of a block of names.</summary>
    public bool IsRead(int line) => (Role(line) & (LineRole.AfterEnd | LineRole.Skipped | LineRole.BlockMember)) == 0;

    /// <summary>Whether a line is taken as part of the page by an earlier check.</summary>
    public bool IsHeaderOrFooter(int line) =>
        explained.TryGetValue(line, out Finding by)
        && (
            by.Problem.Kind == Catalogue.HeaderOrFooter
            || by.Problem.Kind == Catalogue.CommentWithoutMark
            || by.Problem.Kind == Catalogue.ProseInProgram
        );

    /// <summary>Whether a line is page header or footer: recognized now, or made a comment before.</summary>
    public bool IsPageLine(int line)
    {
        if (explained.TryGetValue(line, out Finding by))
            return by.Problem.Kind == Catalogue.HeaderOrFooter;
        if (!Shape(line).Has(LineTraits.CommentOnly))
            return false;
        // A page's head or foot is beside its number.
        return IsNumberedPage(line)
            || (line > 0 && IsNumberedPage(line - 1))
            || (line + 1 < LineCount && IsNumberedPage(line + 1));
    }

    private bool IsNumberedPage(int line)
    {
        ReadOnlySpan<char> text = TextOf(line).AsSpan().Trim();
        return text.StartsWith("; ") && PageNumber.TryRead(text[2..], out _, out bool isExplicit) && isExplicit;
    }

    /// <summary>Whether a name is known otherwise than by a line itself: to the program, to its chip, or as a destination.</summary>
    public bool IsKnown(string name, int line)
    {
        if (
            Program.FindSymbol(name) is { } symbol
            && (symbol.Definition.File != File || symbol.Definition.Line != line)
        )
            return true;
        return Program.NamesDevice?.Symbols.Find(name) is not null;
    }

    /// <summary>Whether a line that reads as no code may hide an instruction.</summary>
    public bool MayHideCode(int line)
    {
        string code = CodeOf(line);
        if (HiddenCode.MayBe(code, name => IsKnown(name, line)))
            return true;
        if (
            Shape(line).Has(LineTraits.LoneName)
            && (HiddenCode.InsteadOfLabel(code, name => IsKnown(name, line)) ?? HiddenCode.Call(Program, code))
                is not null
        )
            return true;
        // A name that the program asks for, and that nothing defines.
        if (missing is null)
        {
            missing = new Dictionary<string, (SourceFile File, int Line)?>(StringComparer.Ordinal);
            foreach (Problem problem in Program.Problems)
            {
                if (problem.Kind != Catalogue.UndefinedName)
                    continue;
                (SourceFile File, int Line) asked = (problem.Place.File, problem.Place.Line);
                if (!missing.TryAdd(problem.Arguments[0], asked) && missing[problem.Arguments[0]] != asked)
                    missing[problem.Arguments[0]] = null;
            }
        }

        if (missing.Count == 0)
            return false;
        foreach (SyntaxToken token in Lexer.Lex(code))
            if (
                token.Kind == TokenKind.Name
                && token.Length > 1
                && missing.TryGetValue(code.Substring(token.Start, token.Length), out var asked)
                // A name that this line alone asks for is a word of its sentence.
                && asked != (File, line)
            )
                return true;
        return false;
    }

    /// <summary>The nearest line above that holds code or a comment, leaving out blank lines and page header or footer; -1 where there is none.</summary>
    public int Above(int line, bool overComments)
    {
        for (int i = line - 1; i >= 0 && i > line - 200; i--)
        {
            LineShape shape = Shape(i);
            if (
                shape.Has(LineTraits.Blank)
                || (overComments && shape.Has(LineTraits.CommentOnly))
                || IsHeaderOrFooter(i)
            )
                continue;
            return i;
        }

        return -1;
    }

    private static bool MakesComment(ProblemKind kind) =>
        kind == Catalogue.CommentWithoutMark
        || kind == Catalogue.CommentOrInstruction
        || kind == Catalogue.HeaderOrFooter
        || kind == Catalogue.ProseInProgram;

    /// <summary>Reports a problem about a stretch of a line.</summary>
    public void Report(
        ProblemKind kind,
        int line,
        TextSpan columns,
        int lastLine,
        Explains explains,
        params ReadOnlySpan<string> arguments
    ) => Report(kind, line, columns, lastLine, explains, facts: null, arguments);

    /// <summary>Reports a problem about a stretch of a line, with what its fix has to know.</summary>
    public void Report(
        ProblemKind kind,
        int line,
        TextSpan columns,
        int lastLine,
        Explains explains,
        ProblemFacts? facts,
        params ReadOnlySpan<string> arguments
    )
    {
        // An instruction after an address and a word stays in sight as what cannot be read: made a comment, it would be lost without a word.
        if (MakesComment(kind) && AssemblyLook.IsNumberedCode(TextOf(line)))
            return;
        Severity severity = kind.Severity;
        if (explains == Explains.WholeLine || explains == Explains.SameCharacters || explains == Explains.Reading)
        {
            // It means what it explains, and so weighs as much.
            for (int i = line; i <= lastLine; i++)
                if ((TroubleOf(i) & Trouble.Error) != 0)
                    severity = Severity.Error;
        }
        else if (explains is Explains.Columns or Explains.NamesAfter)
        {
            Trouble covered = explains == Explains.Columns ? Trouble.UnknownOperation : Trouble.UndefinedName;
            if ((everywhere & covered) != 0)
                severity = Severity.Error;
        }

        var problem = new Problem(
            kind,
            new SourcePlace(File, line, columns),
            kind.Format([.. arguments]),
            [.. arguments],
            []
        )
        {
            Severity = severity,
            Facts = facts,
        };
        var finding = new Finding(problem, line, lastLine, explains);
        Findings.Add(finding);
        if (explains is Explains.WholeLine)
            for (int i = line; i <= lastLine; i++)
                explained[i] = finding;
    }

    /// <summary>The part of a line without blanks around it.</summary>
    public TextSpan Visible(int line)
    {
        string text = TextOf(line);
        int end = text.Length;
        while (end > 0 && char.IsWhiteSpace(text[end - 1]))
            end--;
        int start = 0;
        while (start < end && (char.IsWhiteSpace(text[start]) || text[start] == '\f'))
            start++;
        return TextSpan.FromBounds(start, end);
    }

    /// <summary>The visible part of a line, short enough for a message.</summary>
    public string Quote(int line)
    {
        TextSpan span = Visible(line);
        string text = TextOf(line).Substring(span.Start, span.Length);
        return text.Length > 40 ? text[..37] + "..." : text;
    }
}
