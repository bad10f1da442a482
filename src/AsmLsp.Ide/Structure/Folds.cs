using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Structure;

/// <summary>What a part that can be folded is.</summary>
public enum FoldKind
{
    /// <summary>A part of the program.</summary>
    Code,

    /// <summary>Lines of comments.</summary>
    Comment,

    /// <summary>Lines that include files.</summary>
    Includes,
}

/// <summary>Lines that can be folded away.</summary>
/// <param name="FirstLine">The line that stays, from 0.</param>
/// <param name="LastLine">The last one that goes.</param>
/// <param name="Kind">What they are.</param>
public readonly record struct Fold(int FirstLine, int LastLine, FoldKind Kind);

/// <summary>What folds: what the outline shows, choices and loops, runs of comment lines, runs of includes.</summary>
public static class Folds
{
    /// <summary>The parts of a file, outer ones before inner ones.</summary>
    public static IEnumerable<Fold> Of(ProgramFile file)
    {
        var ranges = new List<Fold>();
        FromOutline(Outline.Of(file));
        var open = new Stack<int>();
        int comments = -1,
            includes = -1,
            number = 0;
        foreach (TextLine line in file.Text.Lines)
        {
            var syntax = LineSyntax.Of(line);
            bool isComment = syntax.IsBlank && syntax.CommentToken >= 0;
            Run(ref comments, isComment, FoldKind.Comment);
            Run(ref includes, syntax.Keyword == Keyword.Include, FoldKind.Includes);
            switch (syntax.Keyword)
            {
                case Keyword.If or Keyword.IfDefined or Keyword.IfNotDefined or Keyword.While:
                    open.Push(number);
                    break;
                case Keyword.Else or Keyword.ElseIf:
                    Close(number - 1);
                    open.Push(number);
                    break;
                case Keyword.EndIf or Keyword.EndWhile:
                    Close(number);
                    break;
            }

            number++;
        }

        Run(ref comments, false, FoldKind.Comment);
        Run(ref includes, false, FoldKind.Includes);
        return ranges
            .DistinctBy(range => (range.FirstLine, range.LastLine))
            .OrderBy(range => range.FirstLine)
            .ThenByDescending(range => range.LastLine);

        void FromOutline(IEnumerable<OutlineEntry> entries)
        {
            foreach (OutlineEntry entry in entries)
            {
                Add(entry.FirstLine, LastWithText(file.Text, entry.FirstLine, entry.LastLine), FoldKind.Code);
                FromOutline(entry.Children);
            }
        }

        void Run(ref int start, bool continues, FoldKind kind)
        {
            if (continues)
            {
                start = start < 0 ? number : start;
                return;
            }

            if (start >= 0)
            {
                Add(start, number - 1, kind);
            }

            start = -1;
        }

        void Close(int last)
        {
            if (open.TryPop(out int opened))
            {
                Add(opened, last, FoldKind.Code);
            }
        }

        void Add(int first, int last, FoldKind kind)
        {
            if (last > first)
            {
                ranges.Add(new(first, last, kind));
            }
        }
    }

    /// <summary>Blank lines and comments before the next routine belong to that one.</summary>
    private static int LastWithText(SourceText text, int first, int last)
    {
        while (last > first && LineSyntax.Of(text[last]).IsBlank)
        {
            last--;
        }

        return last;
    }
}
