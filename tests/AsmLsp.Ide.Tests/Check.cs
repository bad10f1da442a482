using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Changes;
using AsmLsp.Ide.Completing;
using AsmLsp.Ide.HexFiles;
using AsmLsp.Ide.Names;
using AsmLsp.Ide.Reading;
using AsmLsp.Ide.Structure;

namespace AsmLsp.Ide.Tests;

/// <summary>
/// The one door to what is tested here. A source is a program for a 16F84A with the cursor written as <c>{|}</c>; further files are written
/// after it with their names. Places read <c>line:column</c> from 1, with the file's name in front where it is not the source itself.
/// </summary>
internal sealed class Check
{
    private const string Cursor = "{|}";
    private readonly LinePosition at;

    private Check(ProgramFile file, LinePosition at) => (File, this.at) = (file, at);

    /// <summary>The source in its program, for what has no words of its own here.</summary>
    public ProgramFile File { get; }

    /// <summary>A source, and the files that it may include.</summary>
    public static Check In(string marked, params (string Name, string Text)[] files) =>
        In(marked, isFragment: false, files);

    /// <summary>A source that is made to be included, seen without its program.</summary>
    public static Check InPart(string marked) => In(marked, isFragment: true, []);

    /// <summary>Where the name or include at the cursor leads.</summary>
    public void LeadsTo(string places) => Assert.Equal(places, Show(NamePlaces.Definitions(File, at)));

    /// <summary>Everywhere that the name at the cursor is.</summary>
    public void StandsAt(string places, bool withDefinitions = true) =>
        Assert.Equal(places, Show(NamePlaces.References(File, at, withDefinitions)));

    /// <summary>Where the name at the cursor is edited together.</summary>
    public void IsEditedTogetherAt(string places) => Assert.Equal(places, Show(NamePlaces.EditedTogether(File, at)));

    /// <summary>The uses of the name at the cursor, each with <c>r</c> (read) or <c>w</c> (written).</summary>
    public void Highlights(string uses) =>
        Assert.Equal(
            uses,
            string.Join(' ', Names.Highlights.At(File, at).Select(use => Show(use.Place) + (use.IsWrite ? 'w' : 'r')))
        );

    /// <summary>The includes that lead to a file.</summary>
    public void Links(string links) =>
        Assert.Equal(
            links,
            string.Join(' ', NamePlaces.Includes(File).Select(link => $"{Show(link.Place)}>{link.Target.ShortName}"))
        );

    /// <summary>What is offered at the cursor, and what must not be; both are words with blanks between.</summary>
    public void Offers(string offered, string absent = "", params string[] filesBeside)
    {
        string[] words = [.. Completed(filesBeside).Offers.Select(offer => offer.Text)];
        Assert.Empty(offered.Split(' ', StringSplitOptions.RemoveEmptyEntries).Except(words));
        Assert.Empty(absent.Split(' ', StringSplitOptions.RemoveEmptyEntries).Intersect(words));
        Assert.Equal(words.Distinct(), words);
    }

    /// <summary>Exactly what is offered at the cursor, in the order of the alphabet.</summary>
    public void OffersOnly(string offered) =>
        Assert.Equal(
            offered,
            string.Join(' ', Completed([]).Offers.Select(offer => offer.Text).Order(StringComparer.Ordinal))
        );

    /// <summary>One offer at the cursor.</summary>
    public Offer Offer(string text) => Assert.Single(Completed([]).Offers, offer => offer.Text == text);

    /// <summary>The source after an offer was taken.</summary>
    public void Completes(string text, string expected)
    {
        CompletionResult result = Completed([]);
        string line = File.Text[at.Line].Text;
        Assert.Equal(expected, line[..result.Replaced.Start] + Offer(text).Insert + line[result.Replaced.End..]);
    }

    /// <summary>The documentation of an offer holds some words.</summary>
    public void Documents(string offer, string words) =>
        Assert.Contains(words, WordDocumentation.Of(File, Offer(offer).Topic!.Value, offer), StringComparison.Ordinal);

    /// <summary>The help on operands, with the operand that is being written in brackets; <c>none</c> where there is no help.</summary>
    public void Helps(string expected) => Assert.Equal(expected, Show(OperationHelp.At(File, at)));

    /// <summary>The outline: <c>name(kind detail)[children]</c>.</summary>
    public void Outline(string expected) => Assert.Equal(expected, Show(Structure.Outline.Of(File)));

    /// <summary>What folds, as lines from 1.</summary>
    public void Folds(string expected) =>
        Assert.Equal(
            expected,
            string.Join(
                ' ',
                Structure
                    .Folds.Of(File)
                    .Select(fold =>
                        $"{fold.FirstLine + 1}-{fold.LastLine + 1}{(fold.Kind == FoldKind.Code ? "" : $"({fold.Kind})")}"
                    )
            )
        );

    /// <summary>What a selection at the cursor grows to, the narrowest first.</summary>
    public void Selects(params string[] texts) =>
        Assert.Equal(
            texts,
            Selections
                .At(File, at)
                .Select(step =>
                    File.Text.ToString(
                        TextSpan.FromBounds(File.Text.OffsetAt(step.Start), File.Text.OffsetAt(step.End))
                    )
                )
                .Reverse()
        );

    /// <summary>The names that fit a query, the best first.</summary>
    public void Finds(string query, string names) =>
        Assert.Equal(
            names,
            string.Join(
                ' ',
                SymbolSearch.In(File, query).OrderBy(found => found.Rank).Select(found => found.Entry.Name)
            )
        );

    /// <summary>
    /// The classes of the tokens, a line of the source a line here; <c>!</c> is a definition, <c>=</c> a value that stays, <c>*</c> a name of the chip.
    /// </summary>
    public void Classes(params string[] lines)
    {
        var shown = new List<string>();
        foreach (
            IGrouping<int, ClassifiedToken> line in TokenClasses
                .Of(File, 0, File.Text.LineCount - 1)
                .GroupBy(token => token.Line)
        )
        {
            shown.Add(string.Join(' ', line.Select(Show)));
        }

        Assert.Equal(lines, shown);

        string Show(ClassifiedToken token) =>
            $"{File.Text[token.Line].Text.Substring(token.Columns.Start, token.Columns.Length)}:{token.Class}"
            + (token.Traits.HasFlag(TokenTraits.Declaration) ? "!" : "")
            + (token.Traits.HasFlag(TokenTraits.ReadOnly) ? "=" : "")
            + (token.Traits.HasFlag(TokenTraits.BuiltIn) ? "*" : "");
    }

    /// <summary>The source with its hints in it, each as <c>«text»</c>.</summary>
    public void Hints(HintOptions options, string expected)
    {
        var shown = new StringBuilder(File.Text.ToString());
        foreach (
            InlineHint hint in InlineHints
                .Of(File, 0, int.MaxValue, options, CancellationToken.None)
                .AsEnumerable()
                .Reverse()
                .OrderByDescending(hint => hint.At)
        )
        {
            shown.Insert(File.Text.OffsetAt(hint.At), $"«{hint.Text}»");
        }

        Assert.Equal(expected, shown.ToString());
    }

    /// <summary>The lines above routines: <c>name: text</c>.</summary>
    public void Lenses(LensOptions options, params string[] expected) =>
        Assert.Equal(
            expected,
            RoutineLenses.Of(File, options, CancellationToken.None).Select(lens => $"{lens.Routine.Name}: {lens.Title}")
        );

    /// <summary>Who goes to the routine at the cursor, and where it goes.</summary>
    public void Calls(string callers, string called)
    {
        var routines = Routines.Of(File.Program);
        RoutineLines routine = routines.NamedAt(File, at) ?? throw new Xunit.Sdk.XunitException("no routine here");
        Assert.Equal(callers, Show(routines.CallersOf(routine)));
        Assert.Equal(called, Show(routines.CalledFrom(routine)));

        static string Show(IEnumerable<RoutineCalls> calls) =>
            string.Join(' ', calls.Select(call => $"{call.Routine.Name}({Check.Show(call.Places)})"));
    }

    /// <summary>No routine is named at the cursor.</summary>
    public void NamesNoRoutine() => Assert.Null(Routines.Of(File.Program).NamedAt(File, at));

    /// <summary>The source after the name at the cursor was renamed; other files that change come after it.</summary>
    public void Renames(string newName, params string[] expected)
    {
        RenameSubject subject = Renaming.Prepare(File, at);
        Assert.Null(subject.Refusal);
        RenameResult result = Renaming.Run(File, subject.Name!, newName);
        Assert.Null(result.Refusal);
        Assert.Equal(expected, result.Edits.OrderBy(edits => edits.File == File.Source ? 0 : 1).Select(Applied));
    }

    /// <summary>The name at the cursor is not renamed, and why.</summary>
    public void RefusesToRename(string newName, string reason)
    {
        RenameSubject subject = Renaming.Prepare(File, at);
        Assert.Contains(
            reason,
            subject.Refusal ?? Renaming.Run(File, subject.Name!, newName).Refusal ?? "",
            StringComparison.Ordinal
        );
    }

    /// <summary>The titles of the fixes for the line of the cursor, certain ones with <c>!</c>.</summary>
    public void Fixes(params string[] titles) =>
        Assert.Equal(
            titles,
            Actions
                .For(File, at.Line, at.Line, static kind => kind == ActionKind.Fix)
                .Select(action => action.Title + (action.IsCertain ? "!" : ""))
        );

    /// <summary>The source after an action at the cursor: a fix, a refactoring or the fix of all.</summary>
    public void Makes(string title, string expected)
    {
        OfferedAction action = Action(title);
        Assert.Equal(expected, Applied(Assert.Single(action.Changes())));
        // Chosen later, it is found again by its key.
        Assert.Equal(title, Actions.Find(File, action.Key)?.Title);
    }

    /// <summary>An action at the cursor.</summary>
    public OfferedAction Action(string title)
    {
        OfferedAction[] offered =
        [
            .. Actions.For(File, at.Line, at.Line, static _ => true),
            .. RefactoringActions.For(File, at, at, static _ => true, onlyCheap: false),
        ];
        return offered.FirstOrDefault(action => action.Title == title)
            ?? throw new Xunit.Sdk.XunitException(
                $"No '{title}', but\n{string.Join('\n', offered.Select(action => action.Title))}"
            );
    }

    /// <summary>The titles of the refactorings at the cursor.</summary>
    public IEnumerable<string> Refactorings(bool onlyCheap = false, params ActionKind[] kinds) =>
        RefactoringActions
            .For(File, at, at, kind => kinds.Length == 0 || kinds.Contains(kind), onlyCheap)
            .Select(action => action.Title);

    /// <summary>The source after its layout was made.</summary>
    public void Formats(string expected, Core.Layout.LineRange? lines = null) =>
        Assert.Equal(expected, File.Text.WithEdits(FileLayout.Format(File, 8, onlyBlanks: true, lines)).ToString());

    /// <summary>What is shown when the cursor rests on a thing; <c>null</c> on blanks and comments.</summary>
    public void Explains(string? thing)
    {
        Core.Explain.Explanation? said = File.Explain(at, Core.Explain.ExplainOptions.Default);
        Assert.Equal(thing, said is null ? null : File.Text[at.Line].Text.Substring(said.Span.Start, said.Span.Length));
    }

    /// <summary>A HEX file for a 16F84A, with its cursor.</summary>
    public static (HexFile File, LinePosition At) Hex(string marked)
    {
        (SourceText text, LinePosition at) = Unmark(marked);
        return (HexFile.Of(text, DeviceCatalog.Find("16F84A")), at);
    }

    /// <summary>What is shown when the cursor rests on a place of a HEX file holds some words.</summary>
    public static void HexSays(string marked, string words)
    {
        (HexFile file, LinePosition at) = Hex(marked);
        Assert.Contains(words, HexHover.At(file, at)?.Markdown, StringComparison.Ordinal);
    }

    /// <summary>What is shown about the mark of a doubt at the cursor: the printed line that it names.</summary>
    public void DoubtWasPrintedAt(string? place) =>
        Assert.Equal(place, DoubtHover.At(File.Text, at)?.Printed.ToString());

    private static Check In(string marked, bool isFragment, (string Name, string Text)[] files)
    {
        (SourceText text, LinePosition at) = Unmark(marked);
        var source = new SourceFile("main.asm", text);
        ProgramAnalysis program = Assembler.Assemble(
            source,
            new Files(files),
            new AssemblyOptions { ProjectChip = "16F84A" }
        );
        return new(new ProgramModel(program, isFragment).FileOf(source), at);
    }

    private static (SourceText Text, LinePosition At) Unmark(string marked)
    {
        int cursor = marked.IndexOf(Cursor, StringComparison.Ordinal);
        var text = SourceText.From(cursor < 0 ? marked : marked.Remove(cursor, Cursor.Length));
        return (text, text.PositionAt(Math.Max(0, cursor)));
    }

    private static string Applied(FileEdits edits) => edits.File.Text.WithEdits(edits.Edits).ToString();

    private static string Show(IEnumerable<SourcePlace> places) => string.Join(' ', places.Select(Show));

    private static string Show(SourcePlace place) =>
        (place.File.Name == "main.asm" ? "" : place.File.ShortName + ":")
        + $"{place.Line + 1}:{place.Columns.Start + 1}";

    /// <summary>An outline: <c>name(kind detail)[children]</c>.</summary>
    internal static string Show(IEnumerable<OutlineEntry> entries) =>
        string.Join(
            ' ',
            entries.Select(entry =>
                $"{entry.Name}({entry.Kind}{(entry.Detail is { } detail ? " " + detail : "")})"
                + (entry.Children.IsEmpty ? "" : $"[{Show(entry.Children)}]")
            )
        );

    private static string Show(OperationHelp? help)
    {
        if (help is null)
        {
            return "none";
        }

        string label = help.Label;
        if (help.Active < help.Parts.Length)
        {
            (int start, int end, _) = help.Parts[help.Active];
            label = $"{label[..start]}[{label[start..end]}]{label[end..]}";
        }

        return label;
    }

    private CompletionResult Completed(string[] filesBeside) => Completion.At(File, at, () => filesBeside);

    private sealed class Files((string Name, string Text)[] files) : IIncludeResolver
    {
        private readonly Dictionary<string, SourceFile> known = files.ToDictionary(
            file => file.Name,
            file => new SourceFile(file.Name, SourceText.From(file.Text))
        );

        public SourceFile? Resolve(string name, SourceFile from) => known.GetValueOrDefault(name);
    }
}
