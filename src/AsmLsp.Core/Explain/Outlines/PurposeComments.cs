using AsmLsp.Core.Assembly;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain.Outlines;

/// <summary>What the comments around a line say it is for.</summary>
internal static class PurposeComments
{
    private const int MostLines = 6,
        Longest = 160;

    /// <summary>The comment lines right above a line, else the comment on it; null where there is none that says anything.</summary>
    public static string? Of(ProgramAnalysis program, SourceFile file, int line)
    {
        var above = new List<string>();
        int at = line - 1;
        // A blank line, or code, parts a comment from what follows.
        while (
            at >= 0 && above.Count < MostLines && program.SyntaxOf(file, at) is { IsBlank: true, Comment: { } comment }
        )
        {
            above.Insert(0, comment);
            at--;
        }

        return Join(above) ?? (line < file.Text.LineCount ? OfLine(program, file, line) : null);
    }

    /// <summary>The comment on a line alone, or null.</summary>
    public static string? OfLine(ProgramAnalysis program, SourceFile file, int line) =>
        program.SyntaxOf(file, line).Comment is { } comment ? Join([comment]) : null;

    /// <summary>The comment lines at the top of a file, or null.</summary>
    public static string? Title(ProgramAnalysis program)
    {
        var lines = new List<string>();
        for (int line = 0; line < program.Root.Text.LineCount; line++)
        {
            LineSyntax syntax = program.SyntaxOf(program.Root, line);
            if (!syntax.IsBlank)
                break;
            if (syntax.Comment is { } comment && Plain(comment).Length > 0)
                lines.Add(comment);
            else if (lines.Count > 0 && syntax.Comment is null)
                break;
            if (lines.Count == MostLines)
                break;
        }

        return Join(lines);
    }

    private static string? Join(IReadOnlyList<string> comments)
    {
        // A full stop ends a sentence, and lines that begin with a capital letter begin one of their own.
        string text = "";
        bool hasEnded = false;
        foreach (string comment in comments)
        {
            string line = Plain(comment);
            if (line.Length == 0)
                continue;
            text +=
                (
                    text.Length == 0 ? ""
                    : (hasEnded || char.IsUpper(line[0])) && char.IsLetterOrDigit(text[^1]) ? ". "
                    : " "
                ) + line;
            hasEnded = comment.TrimEnd().EndsWith('.');
        }

        if (text.Length == 0)
            return null;
        return text.Length <= Longest
            ? text
            : string.Concat(text.AsSpan(0, text.LastIndexOf(' ', Longest) is > 0 and var at ? at : Longest), " ...");
    }

    // Rulers and frames say nothing; a marked doubt is no purpose.
    private static string Plain(string comment)
    {
        string text = comment.Trim(' ', '\t', ';', '*', '-', '=', '#', '/', '+', '_', '|', '~', '.', '!', ':');
        return text.StartsWith('?') || !text.Any(char.IsLetter)
            ? ""
            : string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
    }
}
