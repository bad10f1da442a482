using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Names;

/// <summary>What kind of thing a name at a place is.</summary>
public enum NameKind
{
    /// <summary>A name of the program.</summary>
    Program,

    /// <summary>A parameter or local name of a macro.</summary>
    MacroOwn,

    /// <summary>A name of the chip.</summary>
    BuiltIn,
}

/// <summary>A place where a name is.</summary>
/// <param name="File">The file.</param>
/// <param name="Line">The line, from 0.</param>
/// <param name="Columns">The name on the line.</param>
/// <param name="IsDefinition">Whether the name gets its meaning there.</param>
public readonly record struct NamePlace(SourceFile File, int Line, TextSpan Columns, bool IsDefinition)
{
    /// <summary>The same without what happens there.</summary>
    public SourcePlace Place => new(File, Line, Columns);
}

/// <summary>The name at a place of a file: what it is, and everywhere that it is.</summary>
/// <param name="Name">The name as defined.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Columns">Its stretch at the place asked about.</param>
/// <param name="Scope">The macro that it belongs to, for a name of a macro's own.</param>
public sealed record NameUse(string Name, NameKind Kind, TextSpan Columns, MacroScope? Scope)
{
    /// <summary>The name that touches a place, or null where none does (comments, texts, numbers and operations that are words of the language).</summary>
    public static NameUse? At(ProgramFile file, LinePosition at)
    {
        if (WordAt(file.Line(at.Line), at.Column) is not { } word)
        {
            return null;
        }

        string text = file.Text[at.Line].Text.Substring(word.Start, word.Length);
        if (MacroScope.At(file, at.Line) is { } scope && scope.Owns(text))
        {
            return new(text, NameKind.MacroOwn, word, scope);
        }

        if (file.ReferenceAt(new(at.Line, at.Column)) is { } reference && reference.Place.Columns.Overlaps(word))
        {
            return new(reference.Name, reference.IsBuiltIn ? NameKind.BuiltIn : NameKind.Program, word, null);
        }

        // Lines that are left out, or a macro that nobody calls: no use was met, but the name may be known.
        if (IsWordOfTheLanguage(file.Line(at.Line), word))
        {
            return null;
        }

        return file.Analysis.FindSymbol(text) is not null ? new(text, NameKind.Program, word, null)
            : file.Analysis.NamesDevice?.Symbols.Find(text) is not null ? new(text, NameKind.BuiltIn, word, null)
            : null;
    }

    /// <summary>Everywhere that the name is, in the order of the files and their lines.</summary>
    public List<NamePlace> Everywhere(ProgramFile file)
    {
        if (Scope is { } scope)
        {
            return InMacro(file, scope);
        }

        var places = new List<NamePlace>();
        foreach (Reference reference in file.Analysis.References.Of(Name))
        {
            // A name that came through a define is in the text of the define, not where that is used.
            if (IsSpelled(reference.Place) && !IsMacrosOwn(file.Program, reference))
            {
                places.Add(
                    new(reference.Place.File, reference.Place.Line, reference.Place.Columns, reference.IsDefinition)
                );
            }
        }

        foreach (Symbol define in file.Analysis.Symbols)
        {
            if (
                define.Kind == SymbolKind.Define
                && define.Name != Name
                && define.Text?.Contains(Name, StringComparison.Ordinal) == true
            )
            {
                AddDefine(places, define.Definition);
            }
        }

        if (
            places.Count == 0
            && file.Analysis.FindSymbol(Name) is { } symbol
            && symbol.Definition.File.Name != OutsideDefines.FileName
        )
        {
            places.Add(new(symbol.Definition.File, symbol.Definition.Line, symbol.Definition.Columns, true));
        }

        return
        [
            .. places
                .OrderBy(place => file.Analysis.Files.IndexOf(place.File))
                .ThenBy(place => place.Line)
                .ThenBy(place => place.Columns.Start),
        ];
    }

    /// <summary>Where the name is defined: each of its assignments for a variable, nothing for a name of the chip.</summary>
    public IEnumerable<NamePlace> Definitions(ProgramFile file)
    {
        if (Scope is { } scope)
        {
            return scope
                .Parameters.Concat(scope.Locals)
                .Where(own => own.Name == Name)
                .Select(own => new NamePlace(file.Source, own.Line, own.Columns, true));
        }

        return Kind == NameKind.BuiltIn ? [] : Everywhere(file).Where(place => place.IsDefinition);
    }

    /// <summary>The word that touches a column of a line, or null.</summary>
    public static TextSpan? WordAt(LineSyntax line, int column)
    {
        TextSpan? found = null;
        foreach (SyntaxToken token in line.Tokens)
        {
            if (token.Kind == TokenKind.Name && token.Span.Touches(column))
            {
                // At a border between two words the one after it counts, as a caret before a word is 'on' it.
                found = token.Span;
            }
        }

        return found;
    }

    private bool IsSpelled(SourcePlace place)
    {
        string line = place.File.Text[place.Line].Text;
        return place.Columns.End <= line.Length
            && line.AsSpan(place.Columns.Start, place.Columns.Length).Equals(Name, StringComparison.OrdinalIgnoreCase);
    }

    private void AddDefine(List<NamePlace> places, SourcePlace definition)
    {
        var syntax = LineSyntax.Of(definition.File.Text[definition.Line]);
        for (int i = syntax.OperationToken + 1; i < syntax.Tokens.Length; i++)
        {
            if (
                syntax.Tokens[i].Kind == TokenKind.Name
                && syntax.Tokens[i].Start > definition.Columns.Start
                && syntax.SpanOf(i).SequenceEqual(Name)
            )
            {
                places.Add(new(definition.File, definition.Line, syntax.Tokens[i].Span, false));
            }
        }
    }

    private List<NamePlace> InMacro(ProgramFile file, MacroScope scope)
    {
        var places = new List<NamePlace>();
        var defined = scope
            .Parameters.Concat(scope.Locals)
            .Where(own => own.Name == Name)
            .Select(own => (own.Line, own.Columns))
            .ToHashSet();
        for (int line = scope.FirstLine; line <= scope.LastLine; line++)
        {
            var syntax = LineSyntax.Of(file.Text[line]);
            for (int i = 0; i < syntax.Tokens.Length; i++)
            {
                SyntaxToken token = syntax.Tokens[i];
                if (
                    token.Kind == TokenKind.Name
                    && syntax.SpanOf(i).SequenceEqual(Name)
                    && (line > scope.FirstLine || i != syntax.LabelToken)
                )
                {
                    bool isLabel = i == syntax.LabelToken && scope.Locals.Any(own => own.Name == Name);
                    places.Add(new(file.Source, line, token.Span, isLabel || defined.Contains((line, token.Span))));
                }
            }
        }

        return places;
    }

    private static bool IsMacrosOwn(ProgramModel program, Reference reference)
    {
        foreach (MacroScope scope in MacroScope.Of(program, reference.Place.File))
        {
            if (
                reference.Place.Line >= scope.FirstLine
                && reference.Place.Line <= scope.LastLine
                && scope.Locals.Any(own => own.Name == reference.Name)
            )
            {
                return true;
            }
        }

        return false;
    }

    private static bool IsWordOfTheLanguage(LineSyntax line, TextSpan word) =>
        line.OperationToken >= 0
        && line.Tokens[line.OperationToken].Span == word
        && line.OperationKind != OperationKind.Unknown;
}
