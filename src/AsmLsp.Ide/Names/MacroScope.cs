using System.Collections.Immutable;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Names;

/// <summary>A macro's definition in a file, by its lines, with the names that mean something only inside it.</summary>
/// <param name="Name">The macro's name.</param>
/// <param name="FirstLine">The line with <c>macro</c>.</param>
/// <param name="LastLine">The line with <c>endm</c>, or the last line of the file.</param>
/// <param name="Parameters">Its parameters, with their places.</param>
/// <param name="Locals">Its local names, with their places.</param>
public sealed record MacroScope(
    string Name,
    int FirstLine,
    int LastLine,
    ImmutableArray<(string Name, int Line, TextSpan Columns)> Parameters,
    ImmutableArray<(string Name, int Line, TextSpan Columns)> Locals
)
{
    /// <summary>Whether a name means something of its own inside the macro.</summary>
    public bool Owns(string name) => Parameters.Any(own => own.Name == name) || Locals.Any(own => own.Name == name);

    /// <summary>The macros of a file, in order; one inside another is a part of the outer one.</summary>
    public static ImmutableArray<MacroScope> In(SourceText text)
    {
        var found = ImmutableArray.CreateBuilder<MacroScope>();
        LineSyntax? opening = null;
        int first = 0,
            depth = 0,
            number = 0;
        var locals = ImmutableArray.CreateBuilder<(string, int, TextSpan)>();
        foreach (TextLine line in text.Lines)
        {
            if (LineSyntax.Of(line) is { OperationKind: OperationKind.Directive } syntax)
            {
                if (syntax.Keyword == Keyword.Macro)
                {
                    if (depth++ == 0)
                    {
                        (opening, first) = (syntax, number);
                    }
                }
                else if (syntax.Keyword == Keyword.EndMacro && depth > 0)
                {
                    if (--depth == 0)
                    {
                        Close(number);
                    }
                }
                else if (syntax.Keyword == Keyword.Local && depth == 1)
                {
                    locals.AddRange(NamesOf(syntax, number));
                }
            }

            number++;
        }

        if (depth > 0)
        {
            Close(number - 1);
        }

        return found.ToImmutable();

        void Close(int last)
        {
            if (opening!.Label is { } name)
            {
                found.Add(new(name, first, last, [.. NamesOf(opening, first)], locals.ToImmutable()));
            }

            locals.Clear();
        }
    }

    /// <summary>The macro whose lines hold a line, or null.</summary>
    public static MacroScope? At(ProgramFile file, int line)
    {
        foreach (MacroScope scope in Of(file.Program, file.Source))
        {
            if (line >= scope.FirstLine && line <= scope.LastLine)
            {
                return scope;
            }
        }

        return null;
    }

    /// <summary>The macros of a file of a program; worked out once.</summary>
    public static ImmutableArray<MacroScope> Of(ProgramModel program, SourceFile file) =>
        program.Derive(static _ => new ScopeTable()).Of(file);

    private static IEnumerable<(string Name, int Line, TextSpan Columns)> NamesOf(LineSyntax syntax, int line)
    {
        foreach (OperandSyntax operand in syntax.Operands)
        {
            for (int i = operand.FirstToken; i < operand.EndToken; i++)
            {
                if (syntax.Tokens[i].Kind == TokenKind.Name)
                {
                    yield return (syntax.TextOf(i), line, syntax.Tokens[i].Span);
                    break;
                }
            }
        }
    }

    private sealed class ScopeTable
    {
        private readonly System.Collections.Concurrent.ConcurrentDictionary<
            SourceFile,
            ImmutableArray<MacroScope>
        > scopes = new();

        public ImmutableArray<MacroScope> Of(SourceFile file) => scopes.GetOrAdd(file, of => In(of.Text));
    }
}
