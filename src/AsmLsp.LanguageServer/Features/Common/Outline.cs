using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Workspace;
using Kind = AsmLsp.LanguageServer.Protocol.SymbolKind;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>An entry of a file's outline.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Kind">How clients show it.</param>
/// <param name="Detail">Value or address, or null.</param>
/// <param name="FirstLine">First line of all that belongs to it.</param>
/// <param name="LastLine">Last line of that.</param>
/// <param name="Line">The line of its name.</param>
/// <param name="Columns">Its name there.</param>
/// <param name="Children">What is inside it.</param>
internal sealed record OutlineEntry(
    string Name,
    Kind Kind,
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
internal static class Outline
{
    public static ImmutableArray<OutlineEntry> Of(FileView view)
    {
        var marks = new List<Mark>();
        ProgramAnalysis program = view.Analysis;
        HashSet<string> called = CalledNames.Of(view.Program);
        int lines = view.Text.LineCount;
        int end = lines - 1;
        int number = 0;
        int blockStart = -1;
        bool fresh = true;
        foreach (TextLine line in view.Text.Lines)
        {
            LineRole role = program.FactsOf(view.File, number).Role;
            if ((role & (LineRole.AfterEnd | LineRole.Skipped)) != 0 && !IsEnd(line))
            {
                number++;
                continue;
            }

            LineSyntax syntax = program.SyntaxOf(view.File, number);
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

        foreach (MacroScope macro in MacroScope.Of(view.Program, view.File))
        {
            LineSyntax syntax = LineSyntax.Of(view.Text[macro.FirstLine]);
            string? detail =
                macro.Parameters.Length > 0
                    ? string.Join(", ", macro.Parameters.Select(parameter => parameter.Name))
                    : null;
            marks.Add(
                new(
                    macro.Name,
                    Kind.Method,
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
                            Kind.Struct,
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
                        new($"org {syntax.OperandText}", Kind.Namespace, null, line, syntax.CodeSpan, Level.Section)
                    );
                    fresh = true;
                    return;
                case Keyword.CodeSection or Keyword.DataSection:
                    marks.Add(
                        new(
                            syntax.Label is { } section
                                ? $"{section} ({syntax.Operation!.ToLowerInvariant()})"
                                : syntax.Operation!.ToLowerInvariant(),
                            Kind.Namespace,
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
                            isRoutine ? Kind.Function : Kind.Key,
                            Address(symbol),
                            line,
                            syntax.Tokens[token].Span,
                            isRoutine ? Level.Routine : Level.Label
                        )
                    );
                    break;
                case SymbolKind.Constant when Only(symbol, line):
                    marks.Add(new(name, Kind.Constant, Value(symbol), line, syntax.Tokens[token].Span, Level.Leaf));
                    break;
                case SymbolKind.BlockMember when Only(symbol, line):
                    marks.Add(new(name, Kind.Field, Value(symbol), line, syntax.Tokens[token].Span, Level.Leaf));
                    break;
                case SymbolKind.Variable when Only(symbol, line):
                    marks.Add(new(name, Kind.Variable, Value(symbol), line, syntax.Tokens[token].Span, Level.Leaf));
                    break;
                case SymbolKind.Define when Only(symbol, line):
                    marks.Add(
                        new(
                            name,
                            Kind.Constant,
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
                    marks.Add(new(member.Name, Kind.Field, detail, line, syntax.Tokens[token].Span, Level.Leaf));
                }
            }

            if (blockStart >= 0)
            {
                marks[blockStart] = marks[blockStart] with { Last = line };
            }
        }

        bool Only(Symbol symbol, int line) => symbol.Definition.File == view.File && symbol.Definition.Line == line;
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

    private sealed record Mark(string Name, Kind Kind, string? Detail, int Line, TextSpan Columns, Level Level)
    {
        public int Last { get; init; }

        public OutlineEntry Entry(int last, ImmutableArray<OutlineEntry> children) =>
            new(Name, Kind, Detail, Line, Math.Max(Line, last), Line, Columns, children);
    }
}

/// <summary>The names that the program calls.</summary>
internal sealed class CalledNames
{
    private readonly HashSet<string> names = new(StringComparer.Ordinal);

    private CalledNames(ProgramVersion program)
    {
        foreach (SourceFile file in program.Analysis.Files)
        {
            foreach (TextLine line in file.Text.Lines)
            {
                if (
                    line.Text.Contains("call", StringComparison.OrdinalIgnoreCase)
                    && LineSyntax.Of(line) is { OperationKind: OperationKind.Instruction } syntax
                    && syntax.Operation is { } word
                    && (
                        word.Equals("call", StringComparison.OrdinalIgnoreCase)
                        || word.Equals("lcall", StringComparison.OrdinalIgnoreCase)
                    )
                )
                {
                    names.Add(syntax.OperandText);
                }
            }
        }
    }

    public static HashSet<string> Of(ProgramVersion program) => program.Derive(of => new CalledNames(of)).names;
}
