using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Names;

namespace AsmLsp.Ide.Changes;

/// <summary>The name that would be renamed, or the reason why nothing can be.</summary>
/// <param name="Name">The name; null where nothing can be renamed.</param>
/// <param name="Refusal">The reason, for people; null where there is a name.</param>
public readonly record struct RenameSubject(NameUse? Name, string? Refusal);

/// <summary>The edits of a rename, or the reason why it can't be made.</summary>
/// <param name="Edits">The edits of every file; none where it is refused.</param>
/// <param name="Refusal">The reason, for people; null where there is none.</param>
public readonly record struct RenameResult(ImmutableArray<FileEdits> Edits, string? Refusal);

/// <summary>Renames a name of a program in all its files; what can't be done without changing the program is refused, with the reason.</summary>
public static class Renaming
{
    /// <summary>What people read where a cursor touches no name.</summary>
    public const string NoName = "There is no name here that could be renamed.";

    /// <summary>The name at a place, where it can be renamed at all.</summary>
    public static RenameSubject Prepare(ProgramFile file, LinePosition at)
    {
        if (NameUse.At(file, at) is not { } name)
        {
            return new(null, NoName);
        }

        Symbol? symbol = name.Scope is null ? file.Analysis.FindSymbol(name.Name) : null;
        string? refusal =
            name.Kind == NameKind.BuiltIn ? $"{name.Name} is a name of the chip, so it can't be renamed."
            : symbol?.Definition.File.Name == OutsideDefines.FileName
                ? $"{name.Name} is defined outside the program, in relist.json or the settings: change it there."
            : null;
        return refusal is null ? new(name, null) : new(null, refusal);
    }

    /// <summary>The edits of every file, checked against the words of the program.</summary>
    public static RenameResult Run(ProgramFile file, NameUse name, string newName)
    {
        if (newName == name.Name)
        {
            return new([], null);
        }

        if ((SpellingFault(newName) ?? Conflict(file, name, newName)) is { } refusal)
        {
            return new([], refusal);
        }

        ImmutableArray<FileEdits> edits =
        [
            .. PlacesOf(file, name)
                .GroupBy(place => place.File)
                .Select(places => new FileEdits(
                    places.Key,
                    [
                        .. places
                            .DistinctBy(place => (place.Line, place.Columns.Start))
                            .OrderBy(place => place.Line)
                            .ThenBy(place => place.Columns.Start)
                            .Select(place => new TextEdit(place.Place.Span, newName)),
                    ]
                )),
        ];
        return ChangeOfProgram(file.Analysis, edits, newName) is { } change ? new([], change) : new(edits, null);
    }

    private static string? SpellingFault(string name)
    {
        SyntaxToken[] tokens = LineSyntax.Parse(name).Tokens;
        if (tokens is not [{ Kind: TokenKind.Name }] || name[0] == '#')
        {
            return $"'{name}' can't be a name. Names are made of letters, digits and _, and do not start with a digit.";
        }

        if (OperationWords.KindOf(name) is var kind && kind != OperationKind.Unknown)
        {
            return $"{name} is {(kind == OperationKind.Instruction ? "an instruction" : "a directive")}; a name like that could be read as the operation.";
        }

        return null;
    }

    private static string? Conflict(ProgramFile file, NameUse name, string newName)
    {
        if (name.Scope is { } scope && scope.Owns(newName))
        {
            return $"The macro {scope.Name} has a name {newName} already.";
        }

        if (
            file.Analysis.Symbols.FirstOrDefault(symbol =>
                symbol.Name.Equals(newName, StringComparison.OrdinalIgnoreCase) && symbol.Name != name.Name
            ) is
            { } taken
        )
        {
            return taken.Name == newName
                ? $"{newName} is defined already ({taken.Definition})."
                : $"{taken.Name} is defined already ({taken.Definition}) and differs in capital letters only; the two would be mixed up.";
        }

        if (file.Analysis.NamesDevice?.Symbols.FindAnyCase(newName) is { } builtIn)
        {
            return $"{builtIn.Name} is a name of the chip {file.Analysis.NamesDevice!.Name}; a name of the program like that would hide it.";
        }

        if (newName is "w" or "W" or "f" or "F")
        {
            return $"{newName} says where a result goes; a name like that would change such instructions.";
        }

        if (name.Scope is not null)
        {
            return null;
        }

        foreach (SourceFile source in file.Analysis.Files)
        {
            foreach (MacroScope macro in MacroScope.Of(file.Program, source).Where(macro => macro.Owns(newName)))
            {
                return $"The macro {macro.Name} ({source.ShortName}:{macro.FirstLine + 1}) uses {newName} as a name of its own.";
            }
        }

        return null;
    }

    private static List<NamePlace> PlacesOf(ProgramFile file, NameUse name)
    {
        List<NamePlace> places = name.Everywhere(file);
        if (name.Scope is not null)
        {
            return places;
        }

        // Where nothing was assembled (left-out lines, macros that nobody calls, texts of defines) only the spelling shows it.
        var known = places.Select(place => (place.File, place.Line, place.Columns.Start)).ToHashSet();
        foreach (SourceFile source in file.Analysis.Files)
        {
            int number = 0;
            foreach (TextLine line in source.Text.Lines)
            {
                if (line.Text.Contains(name.Name, StringComparison.Ordinal))
                {
                    places.AddRange(
                        BySpelling(file, source, number, name.Name)
                            .Where(place => known.Add((source, place.Line, place.Columns.Start)))
                    );
                }

                number++;
            }
        }

        return places;
    }

    private static IEnumerable<NamePlace> BySpelling(ProgramFile file, SourceFile source, int number, string name)
    {
        LineSyntax syntax = file.Analysis.SyntaxOf(source, number);
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
                .Of(file.Program, source)
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
                yield return new NamePlace(source, number, syntax.Tokens[i].Span, false);
            }
        }
    }

    private static string? ChangeOfProgram(ProgramAnalysis before, ImmutableArray<FileEdits> edits, string newName)
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
            return null;
        }

        Problem? fresh = after.Problems.FirstOrDefault(problem =>
            problem.Severity == Severity.Error && problem.Message.Contains(newName, StringComparison.Ordinal)
        );
        return fresh is null
            ? $"With the name {newName} the program would give other words, so nothing was renamed."
            : $"With the name {newName} the program would not be the same ({fresh.Place}: {fresh.Message}), so nothing was renamed.";

        static int Errors(ProgramAnalysis program) =>
            program.Problems.Count(problem => problem.Severity == Severity.Error);
    }
}
