using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Checks every edit that is made without asking by assembling the program again and comparing its words. Where the
/// program had no error, its words may not change at all; where it had some, no line that was free of error may give
/// other words than before, except for the addresses of labels that moved.
/// </summary>
internal static class EditGuard
{
    /// <summary>Whether the program after the edits says the same as before.</summary>
    /// <param name="before">The program before.</param>
    /// <param name="after">The program after.</param>
    /// <param name="file">The file before the edits.</param>
    /// <param name="newFile">The file after them.</param>
    /// <param name="map">The edits.</param>
    /// <param name="doubtful">Lines (after the edits) that carry a doubt, whose words may change; null where there are none.</param>
    public static bool Allows(
        ProgramAnalysis before,
        ProgramAnalysis after,
        SourceFile file,
        SourceFile newFile,
        EditMap map,
        HashSet<int>? doubtful
    )
    {
        if (doubtful is null && !before.HasErrors)
            return !after.HasErrors && SameImage(before.Image, after.Image);
        int[] lines = map.AllLinesAfter();
        bool onlyComments = doubtful is not null && MakesOnlyComments(map);
        if (
            !onlyComments
            && CountErrors(after, newFile, NotReadBefore(before, file, lines)) > CountErrors(before, file, null)
        )
            return false;

        var edited = EditedLines(file, map);
        if (doubtful is not null && ResolvesDoubt(before, file, edited, newFile, lines))
            return true;

        var faulty = new HashSet<(string, int)>();
        var twice = new HashSet<string>(StringComparer.Ordinal);
        foreach (Problem problem in before.Problems)
        {
            if (problem.Severity != Severity.Error)
                continue;
            if (problem.Kind == Catalogue.NameDefinedTwice)
                twice.Add(problem.Arguments[0]);
            faulty.Add(
                (problem.Place.File.Name, problem.Place.File == file ? lines[problem.Place.Line] : problem.Place.Line)
            );
        }

        // A line of code with characters of typesetting was never readable: what it gave was chance.
        foreach (int line in edited)
            if (IsTypeset(file.Text[line].Text))
                faulty.Add((file.Name, lines[line]));

        // A sentence's first word may have served as a label: lines that lose it are in error now, which is not silent.
        if (onlyComments)
        {
            foreach (Problem problem in after.Problems)
                if (problem.Severity == Severity.Error)
                    faulty.Add((problem.Place.File.Name, problem.Place.Line));
        }

        // What is in the body of a macro shows in its calls: a doubt there is a doubt about all of them.
        bool inBody = doubtful is not null && IsAnyInBody(before, file, edited);
        var old = Collect(before, file, lines, inBody);
        var now = Collect(after, newFile, null, inBody);
        foreach ((var key, List<LineWord> words) in old)
        {
            bool ours = key.File == file.Name;
            if (faulty.Contains(key) || (ours && doubtful is not null && doubtful.Contains(key.Line)))
                continue;
            bool found = now.TryGetValue(key, out List<LineWord>? then);
            // A doubtful 'macro' takes the lines below it for its body, a doubtful define chooses between lines.
            if (
                !found
                && ours
                && doubtful is not null
                && (after.FactsOf(newFile, key.Line).Role & (LineRole.Body | LineRole.Skipped)) != 0
            )
                continue;
            if (then is null || then.Count != words.Count)
                return false;
            for (int i = 0; i < words.Count; i++)
            {
                if (words[i].Word == then[i].Word)
                    continue;
                if (words[i].Origin.Via is not null && IsFaulty(faulty, words[i].Origin, file, lines))
                    continue;
                if (!DependsOnMoved(before, after, words[i].Origin, file, edited, twice))
                    return false;
            }
        }

        return true;
    }

    // A 'list' or 'radix' that could not be read says how all numbers are read: its doubt is about all of them.
    private static bool ResolvesDoubt(
        ProgramAnalysis before,
        SourceFile file,
        HashSet<int> edited,
        SourceFile newFile,
        int[] lines
    )
    {
        foreach (int line in edited)
        {
            LineSyntax syntax = LineSyntax.Of(newFile.Text[lines[line]]);
            if (
                syntax.OperationKind != OperationKind.Directive
                || syntax.OperationKind == LineSyntax.Of(file.Text[line]).OperationKind
            )
                continue;
            if (
                syntax.Keyword is Keyword.List or Keyword.Radix
                && before.Problems.Any(p =>
                    p.Severity == Severity.Error && p.Place.File == file && p.Place.Line == line
                )
            )
                return true;
        }

        return false;
    }

    private static bool IsTypeset(string line)
    {
        int code = LineSyntax.Parse(line).CodeSpan.End;
        if (GarbledCharacters.Occur(line))
        {
            var garbled = new List<(TextSpan Span, string Replacement)>();
            GarbledCharacters.Collect(line, garbled);
            if (garbled.Exists(f => f.Span.Start < code))
                return true;
        }

        if (!TypographicCharacters.Occur(line))
            return false;
        var found = new List<(int Column, string Replacement)>();
        TypographicCharacters.Collect(line, found);
        return found.Exists(f => f.Column < code);
    }

    private static bool MakesOnlyComments(EditMap map)
    {
        foreach (TextEdit edit in map.Edits)
            if (edit.Span.Length > 0 || !edit.NewText.AsSpan().TrimStart().StartsWith(";"))
                return false;
        return true;
    }

    private static bool SameImage(ProgramImage a, ProgramImage b) =>
        a.Count == b.Count
        && a.Words.Select(w => (w.Address, w.Word)).SequenceEqual(b.Words.Select(w => (w.Address, w.Word)));

    private static int CountErrors(ProgramAnalysis program, SourceFile file, HashSet<int>? except)
    {
        int count = 0;
        foreach (Problem problem in program.Problems)
            if (
                problem.Severity == Severity.Error
                && (except is null || problem.Place.File != file || !except.Contains(problem.Place.Line))
            )
                count++;
        return count;
    }

    // Lines that a stray 'if' or 'end' kept from being read: what is wrong with them comes to light, it is not made.
    private static HashSet<int> NotReadBefore(ProgramAnalysis before, SourceFile file, int[] lines)
    {
        var found = new HashSet<int>();
        for (int i = 0; i < lines.Length; i++)
            if ((before.FactsOf(file, i).Role & (LineRole.Skipped | LineRole.AfterEnd | LineRole.Body)) != 0)
                found.Add(lines[i]);
        return found;
    }

    private static Dictionary<(string File, int Line), List<LineWord>> Collect(
        ProgramAnalysis program,
        SourceFile edited,
        int[]? lines,
        bool withoutCalls
    )
    {
        var found = new Dictionary<(string, int), List<LineWord>>();
        foreach ((int _, ushort word, WordOrigin origin) in program.Image.Words)
        {
            if (withoutCalls && origin.Via is not null)
                continue;
            (SourceFile file, int line) = origin.Outermost;
            var key = (file.Name, file == edited && lines is not null ? lines[line] : line);
            if (!found.TryGetValue(key, out List<LineWord>? list))
                found.Add(key, list = new(1));
            list.Add(new LineWord(word, origin));
        }

        return found;
    }

    private static bool IsAnyInBody(ProgramAnalysis program, SourceFile file, HashSet<int> lines)
    {
        foreach (int line in lines)
            if ((program.FactsOf(file, line).Role & LineRole.Body) != 0)
                return true;
        return false;
    }

    private static bool IsFaulty(HashSet<(string, int)> faulty, in WordOrigin origin, SourceFile file, int[] lines) =>
        faulty.Contains((origin.File.Name, origin.File == file ? lines[origin.Line] : origin.Line));

    internal static HashSet<int> EditedLines(SourceFile file, EditMap map)
    {
        var found = new HashSet<int>();
        foreach (TextEdit edit in map.Edits)
        {
            int last = file.Text.PositionAt(edit.Span.End).Line;
            for (int line = file.Text.PositionAt(edit.Span.Start).Line; line <= last; line++)
                found.Add(line);
        }

        return found;
    }

    // A word may follow a label that moved, or a value that was not known before: it then says what it always said.
    private static bool DependsOnMoved(
        ProgramAnalysis before,
        ProgramAnalysis after,
        in WordOrigin origin,
        SourceFile file,
        HashSet<int> edited,
        HashSet<string> twice
    )
    {
        if (NamesMoved(before, after, LineSyntax.Of(origin.File.Text[origin.Line]), file, edited, twice))
            return true;
        (SourceFile outer, int line) = origin.Outermost;
        return origin.Via is not null
            && NamesMoved(before, after, LineSyntax.Of(outer.Text[line]), file, edited, twice);
    }

    private static bool NamesMoved(
        ProgramAnalysis before,
        ProgramAnalysis after,
        LineSyntax syntax,
        SourceFile file,
        HashSet<int> edited,
        HashSet<string> twice
    )
    {
        for (int i = 0; i < syntax.Tokens.Length; i++)
        {
            if (syntax.Tokens[i].Kind == TokenKind.Here)
                return true;
            if (syntax.Tokens[i].Kind != TokenKind.Name || i == syntax.LabelToken)
                continue;
            string name = syntax.TextOf(i);
            Symbol? old = Find(before, name),
                now = Find(after, name);
            if (old is null && now is null)
                continue;
            if (old is null || !old.IsKnown)
                return true;
            if (now is null || now.Value == old.Value)
                continue;
            if (old.Kind == SymbolKind.Label)
                return true;
            bool touched = old.Definition.File == file && edited.Contains(old.Definition.Line);
            // A name that was defined twice had a value by accident.
            if (!touched || twice.Contains(name))
                return true;
        }

        return false;
    }

    // A name that differs by its capitals only is found by assembling, too.
    private static Symbol? Find(ProgramAnalysis program, string name)
    {
        if (program.FindSymbol(name) is { } symbol)
            return symbol;
        foreach (Symbol other in program.Symbols)
            if (other.Name.Equals(name, StringComparison.OrdinalIgnoreCase))
                return other;
        return null;
    }

    private readonly record struct LineWord(ushort Word, WordOrigin Origin);
}
