using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Renames a name of a program in all its files; what can't be done without changing the program is refused, with the reason.</summary>
internal static class Renaming
{
    /// <summary>The name at a place, where it can be renamed at all.</summary>
    public static NameUse Prepare(FileView view, LinePosition at)
    {
        NameUse name =
            NameUse.At(view, at) ?? throw LspException.Refused("There is no name here that could be renamed.");
        if (name.Kind == NameKind.BuiltIn)
        {
            throw LspException.Refused($"{name.Name} is a name of the chip, so it can't be renamed.");
        }

        if (name.Kind == NameKind.Program && view.Analysis.FindSymbol(name.Name) is { Kind: SymbolKind.External })
        {
            throw LspException.Refused(
                $"{name.Name} is said to be defined in another file that is not part of this program."
            );
        }

        if (name.Scope is null && view.Analysis.FindSymbol(name.Name)?.Definition.File.Name == OutsideDefines.FileName)
        {
            throw LspException.Refused(
                $"{name.Name} is defined outside the program, in relist.json or the settings: change it there."
            );
        }

        return name;
    }

    /// <summary>The edits of every file, checked against the words of the program.</summary>
    public static List<(SourceFile File, IEnumerable<TextEdit> Edits)> Run(FileView view, NameUse name, string newName)
    {
        if (newName == name.Name)
        {
            return [];
        }

        CheckSpelling(newName);
        CheckFree(view, name, newName);
        List<NamePlace> places = PlacesOf(view, name);
        var edits = new List<(SourceFile File, IEnumerable<TextEdit> Edits)>();
        foreach (IGrouping<SourceFile, NamePlace> file in places.GroupBy(place => place.File))
        {
            edits.Add(
                (
                    file.Key,
                    [
                        .. file.DistinctBy(place => (place.Line, place.Columns.Start))
                            .OrderBy(place => place.Line)
                            .ThenBy(place => place.Columns.Start)
                            .Select(place => new TextEdit(place.Place.Span, newName)),
                    ]
                )
            );
        }

        CheckProgram(view.Analysis, edits, newName);
        return edits;
    }

    private static void CheckSpelling(string name)
    {
        SyntaxToken[] tokens = LineSyntax.Parse(name).Tokens;
        if (tokens is not [{ Kind: TokenKind.Name }] || name[0] == '#')
        {
            throw LspException.Refused(
                $"'{name}' can't be a name. Names are made of letters, digits and _, and do not start with a digit."
            );
        }

        if (OperationWords.KindOf(name) is var kind && kind != OperationKind.Unknown)
        {
            throw LspException.Refused(
                $"{name} is {(kind == OperationKind.Instruction ? "an instruction" : "a directive")}; a name like that could be read as the operation."
            );
        }
    }

    private static void CheckFree(FileView view, NameUse name, string newName)
    {
        if (name.Scope is { } scope && scope.Owns(newName))
        {
            throw LspException.Refused($"The macro {scope.Name} has a name {newName} already.");
        }

        if (
            view.Analysis.Symbols.FirstOrDefault(symbol =>
                symbol.Name.Equals(newName, StringComparison.OrdinalIgnoreCase) && symbol.Name != name.Name
            ) is
            { } taken
        )
        {
            throw LspException.Refused(
                taken.Name == newName
                    ? $"{newName} is defined already ({taken.Definition})."
                    : $"{taken.Name} is defined already ({taken.Definition}) and differs in capital letters only; the two would be mixed up."
            );
        }

        if (view.Analysis.NamesDevice?.Symbols.FindAnyCase(newName) is { } builtIn)
        {
            throw LspException.Refused(
                $"{builtIn.Name} is a name of the chip {view.Analysis.NamesDevice!.Name}; a name of the program like that would hide it."
            );
        }

        if (newName is "w" or "W" or "f" or "F")
        {
            throw LspException.Refused(
                $"{newName} says where a result goes; a name like that would change such instructions."
            );
        }

        foreach (SourceFile file in view.Analysis.Files)
        {
            foreach (MacroScope macro in MacroScope.Of(view.Program, file))
            {
                if (name.Scope is null && macro.Owns(newName))
                {
                    throw LspException.Refused(
                        $"The macro {macro.Name} ({file.ShortName}:{macro.FirstLine + 1}) uses {newName} as a name of its own."
                    );
                }
            }
        }
    }

    private static List<NamePlace> PlacesOf(FileView view, NameUse name)
    {
        List<NamePlace> places = name.Everywhere(view);
        if (name.Scope is not null)
        {
            return places;
        }

        // Where nothing was assembled (left-out lines, macros that nobody calls, texts of defines) the spelling alone tells.
        var known = places.Select(place => (place.File, place.Line, place.Columns.Start)).ToHashSet();
        foreach (SourceFile file in view.Analysis.Files)
        {
            int number = 0;
            foreach (TextLine line in file.Text.Lines)
            {
                if (line.Text.Contains(name.Name, StringComparison.Ordinal))
                {
                    places.AddRange(
                        BySpelling(view, file, number, name.Name)
                            .Where(place => known.Add((file, place.Line, place.Columns.Start)))
                    );
                }

                number++;
            }
        }

        return places;
    }

    private static IEnumerable<NamePlace> BySpelling(FileView view, SourceFile file, int number, string name)
    {
        LineSyntax syntax = view.Analysis.SyntaxOf(file, number);
        if (
            DirectiveList.Find(syntax)
            is IncludeDirective
                or ListDirective
                or ProcessorDirective
                or RadixDirective
                or PageLayoutDirective
                or MessageDirective
                or ErrorDirective
        )
        {
            yield break;
        }

        if (
            MacroScope
                .Of(view.Program, file)
                .Any(macro => number >= macro.FirstLine && number <= macro.LastLine && macro.Owns(name))
        )
        {
            yield break;
        }

        for (int i = 0; i < syntax.Tokens.Length; i++)
        {
            bool isLanguage = i == syntax.OperationToken && syntax.OperationKind != OperationKind.Unknown;
            if (syntax.Tokens[i].Kind == TokenKind.Name && !isLanguage && syntax.SpanOf(i).SequenceEqual(name))
            {
                yield return new NamePlace(file, number, syntax.Tokens[i].Span, false);
            }
        }
    }

    private static void CheckProgram(
        ProgramAnalysis before,
        List<(SourceFile File, IEnumerable<TextEdit> Edits)> edits,
        string newName
    )
    {
        Dictionary<SourceFile, SourceFile> changed = edits.ToDictionary(
            edit => edit.File,
            edit => new SourceFile(edit.File.Name, edit.File.Text.WithEdits(edit.Edits))
        );
        ProgramAnalysis after = before.With(changed);
        bool sameWords =
            before.Image.Count == after.Image.Count
            && before
                .Image.Words.Select(word => (word.Address, word.Word))
                .SequenceEqual(after.Image.Words.Select(word => (word.Address, word.Word)));
        if (sameWords && Errors(before) == Errors(after))
        {
            return;
        }

        Problem? fresh = after.Problems.FirstOrDefault(problem =>
            problem.Severity == Severity.Error && problem.Message.Contains(newName, StringComparison.Ordinal)
        );
        throw LspException.Refused(
            fresh is null
                ? $"With the name {newName} the program would give other words, so nothing was renamed."
                : $"With the name {newName} the program would not be the same ({fresh.Place}: {fresh.Message}), so nothing was renamed."
        );

        static int Errors(ProgramAnalysis program) =>
            program.Problems.Count(problem => problem.Severity == Severity.Error);
    }
}
