using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Names;

namespace AsmLsp.Ide.Structure;

/// <summary>What an entry of the outline is.</summary>
public enum OutlineKind
{
    /// <summary>A part of the program that starts at an address or in a section.</summary>
    Section,

    /// <summary>A label that something calls, or the first one of a section, with all up to the next one.</summary>
    Routine,

    /// <summary>A label inside a routine.</summary>
    Label,

    /// <summary>A block of variables.</summary>
    VariableBlock,

    /// <summary>A variable of a block.</summary>
    Member,

    /// <summary>The definition of a macro.</summary>
    Macro,

    /// <summary>A name for a value, or for a text.</summary>
    Constant,

    /// <summary>A name whose value may change.</summary>
    Variable,
}

/// <summary>An entry of a file's outline.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Detail">Value or address, or null.</param>
/// <param name="FirstLine">First line of all that belongs to it.</param>
/// <param name="LastLine">Last line of that.</param>
/// <param name="Line">The line of its name.</param>
/// <param name="Columns">Its name there.</param>
/// <param name="Children">What is inside it.</param>
public sealed record OutlineEntry(
    string Name,
    OutlineKind Kind,
    string? Detail,
    int FirstLine,
    int LastLine,
    int Line,
    TextSpan Columns,
    ImmutableArray<OutlineEntry> Children
);

/// <summary>
/// What a file consists of: sections, in them routines with the labels inside, blocks of variables with their members, macros, values.
/// A routine starts at a label that something calls, or at the first label of a section, and goes to the next one.
/// </summary>
public static class Outline
{
    /// <summary>The outline of a file, in the order of its lines.</summary>
    public static ImmutableArray<OutlineEntry> Of(ProgramFile file)
    {
        var marks = new List<Mark>();
        ProgramAnalysis program = file.Analysis;
        HashSet<string> called = CalledNames.Of(file.Program);
        int lines = file.Text.LineCount;
        int end = lines - 1;
        int number = 0;
        int blockStart = -1;
        bool fresh = true;
        foreach (TextLine line in file.Text.Lines)
        {
            LineRole role = program.FactsOf(file.Source, number).Role;
            if ((role & (LineRole.AfterEnd | LineRole.Skipped)) != 0 && !IsEnd(line))
            {
                number++;
                continue;
            }

            LineSyntax syntax = program.SyntaxOf(file.Source, number);
            if (syntax.IsBlank)
            {
                number++;
                continue;
            }

            if ((role & LineRole.BlockMember) != 0)
            {
                Members(syntax, number);
            }
            else if ((role & LineRole.Body) == 0)
            {
                Take(syntax, number, role);
            }

            number++;
        }

        foreach (MacroScope macro in MacroScope.Of(file.Program, file.Source))
        {
            LineSyntax syntax = LineSyntax.Of(file.Text[macro.FirstLine]);
            string? detail =
                macro.Parameters.Length > 0
                    ? string.Join(", ", macro.Parameters.Select(parameter => parameter.Name))
                    : null;
            marks.Add(
                new(
                    macro.Name,
                    OutlineKind.Macro,
                    detail,
                    macro.FirstLine,
                    syntax.Tokens[syntax.LabelToken].Span,
                    Level.Whole
                )
                {
                    Last = macro.LastLine,
                }
            );
        }

        return Nest([.. marks.OrderBy(mark => mark.Line)], 0, end);

        void Take(LineSyntax syntax, int line, LineRole role)
        {
            switch (syntax.Keyword)
            {
                case Keyword.VariableBlock:
                    blockStart = marks.Count;
                    marks.Add(
                        new(
                            "Variables" + (syntax.OperandText.Length > 0 ? $" at {syntax.OperandText}" : ""),
                            OutlineKind.VariableBlock,
                            null,
                            line,
                            syntax.Tokens[syntax.OperationToken].Span,
                            Level.Whole
                        )
                        {
                            Last = line,
                        }
                    );
                    return;
                case Keyword.EndVariableBlock:
                    if (blockStart >= 0)
                    {
                        marks[blockStart] = marks[blockStart] with { Last = line };
                    }

                    blockStart = -1;
                    return;
                case Keyword.Org:
                    marks.Add(
                        new(
                            $"org {syntax.OperandText}",
                            OutlineKind.Section,
                            null,
                            line,
                            syntax.CodeSpan,
                            Level.Section
                        )
                    );
                    fresh = true;
                    return;
                case Keyword.CodeSection or Keyword.DataSection:
                    marks.Add(
                        new(
                            syntax.Label is { } section
                                ? $"{section} ({syntax.Operation!.ToLowerInvariant()})"
                                : syntax.Operation!.ToLowerInvariant(),
                            OutlineKind.Section,
                            null,
                            line,
                            syntax.CodeSpan,
                            Level.Section
                        )
                    );
                    fresh = true;
                    return;
                case Keyword.End:
                    end = Math.Max(0, line - 1);
                    return;
                case Keyword.Macro:
                    return;
            }

            string? name = syntax.Label;
            int token = syntax.LabelToken;
            if (syntax.Keyword is Keyword.Define or Keyword.Constant or Keyword.Variable && syntax.Operands.Length > 0)
            {
                token = FirstName(syntax, syntax.Operands[0]);
                name = token >= 0 ? syntax.TextOf(token) : null;
            }

            if (name is null || program.FindSymbol(name) is not { } symbol)
            {
                return;
            }

            switch (symbol.Kind)
            {
                case SymbolKind.Label:
                    bool isRoutine = fresh || called.Contains(name);
                    fresh = false;
                    marks.Add(
                        new(
                            name,
                            isRoutine ? OutlineKind.Routine : OutlineKind.Label,
                            Address(symbol),
                            line,
                            syntax.Tokens[token].Span,
                            isRoutine ? Level.Routine : Level.Label
                        )
                    );
                    break;
                case SymbolKind.Constant when Only(symbol, line):
                    marks.Add(
                        new(name, OutlineKind.Constant, Value(symbol), line, syntax.Tokens[token].Span, Level.Leaf)
                    );
                    break;
                case SymbolKind.BlockMember when Only(symbol, line):
                    marks.Add(
                        new(name, OutlineKind.Member, Value(symbol), line, syntax.Tokens[token].Span, Level.Leaf)
                    );
                    break;
                case SymbolKind.Variable when Only(symbol, line):
                    marks.Add(
                        new(name, OutlineKind.Variable, Value(symbol), line, syntax.Tokens[token].Span, Level.Leaf)
                    );
                    break;
                case SymbolKind.Define when Only(symbol, line):
                    marks.Add(
                        new(
                            name,
                            OutlineKind.Constant,
                            symbol.Text is { Length: > 0 } text ? text : null,
                            line,
                            syntax.Tokens[token].Span,
                            Level.Leaf
                        )
                    );
                    break;
            }
        }

        void Members(LineSyntax syntax, int line)
        {
            foreach (OperandSyntax operand in syntax.Operands)
            {
                int token = FirstName(syntax, operand);
                if (token >= 0 && program.FindSymbol(syntax.TextOf(token)) is { } member)
                {
                    string detail =
                        Value(member)
                        + (
                            member.Size > 1 ? string.Create(CultureInfo.InvariantCulture, $", {member.Size} bytes") : ""
                        );
                    marks.Add(
                        new(member.Name, OutlineKind.Member, detail, line, syntax.Tokens[token].Span, Level.Leaf)
                    );
                }
            }

            if (blockStart >= 0)
            {
                marks[blockStart] = marks[blockStart] with { Last = line };
            }
        }

        bool Only(Symbol symbol, int line) => symbol.Definition.File == file.Source && symbol.Definition.Line == line;
    }

    /// <summary>The value of a name as people write addresses.</summary>
    public static string? Value(Symbol symbol) =>
        symbol.IsKnown ? string.Create(CultureInfo.InvariantCulture, $"0x{symbol.Value:X2}") : null;

    private static string? Address(Symbol symbol) =>
        symbol.IsKnown ? string.Create(CultureInfo.InvariantCulture, $"0x{symbol.Value:X4}") : null;

    private static int FirstName(LineSyntax syntax, OperandSyntax operand)
    {
        for (int i = operand.FirstToken; i < operand.EndToken; i++)
        {
            if (syntax.Tokens[i].Kind == TokenKind.Name)
            {
                return i;
            }
        }

        return -1;
    }

    private static bool IsEnd(TextLine line) => LineSyntax.Of(line).Keyword == Keyword.End;

    private static ImmutableArray<OutlineEntry> Nest(List<Mark> marks, int from, int end)
    {
        int at = from;
        return Take(Level.Section, end);

        // Takes all marks down to a level and up to a line; what is lower goes into the entry before it.
        ImmutableArray<OutlineEntry> Take(Level level, int last)
        {
            var entries = ImmutableArray.CreateBuilder<OutlineEntry>();
            while (at < marks.Count && marks[at].Line <= last)
            {
                Mark mark = marks[at];
                if (mark.Level < level)
                {
                    break;
                }

                at++;
                if (mark.Level is Level.Leaf or Level.Label)
                {
                    entries.Add(mark.Entry(mark.Line, []));
                    continue;
                }

                int lastLine = mark.Level == Level.Whole ? mark.Last : Math.Max(mark.Line, NextOf(mark, last));
                ImmutableArray<OutlineEntry> children =
                    mark.Level == Level.Whole ? Inside(lastLine) : Take(mark.Level + 1, lastLine);
                entries.Add(mark.Entry(lastLine, children));
            }

            return entries.ToImmutable();
        }

        ImmutableArray<OutlineEntry> Inside(int last)
        {
            var entries = ImmutableArray.CreateBuilder<OutlineEntry>();
            for (; at < marks.Count && marks[at].Line <= last; at++)
            {
                entries.Add(marks[at].Entry(marks[at].Line, []));
            }

            return entries.ToImmutable();
        }

        int NextOf(Mark mark, int last)
        {
            for (int i = at; i < marks.Count && marks[i].Line <= last; i++)
            {
                if (marks[i].Level <= mark.Level || (marks[i].Level == Level.Whole && mark.Level == Level.Routine))
                {
                    return marks[i].Line - 1;
                }
            }

            return last;
        }
    }

    private enum Level
    {
        Section,
        Routine,
        Label,
        Whole,
        Leaf,
    }

    private sealed record Mark(string Name, OutlineKind Kind, string? Detail, int Line, TextSpan Columns, Level Level)
    {
        public int Last { get; init; }

        public OutlineEntry Entry(int last, ImmutableArray<OutlineEntry> children) =>
            new(Name, Kind, Detail, Line, Math.Max(Line, last), Line, Columns, children);
    }
}
