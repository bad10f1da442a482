using AsmLsp.Core.Assembly.Directives;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <content>Walking over lines and handing each to what it names.</content>
internal sealed partial class AssemblyPass
{
    private void Walk(SourceFile file)
    {
        Unit.Files.Add(file);
        bool again = Facts.TryGetValue(file, out LineFacts[]? facts);
        if (!again)
        {
            Files.Add(file);
            Facts.Add(file, facts = BlankFacts(file));
        }

        including.Push(file);
        WalkLines(new LineCursor(file), facts, again);
        including.Pop();
        FileEnded = false;
    }

    private LineFacts[] BlankFacts(SourceFile file)
    {
        if (worn is null || !worn.Remove(file, out LineFacts[]? facts))
            facts = new LineFacts[file.Text.LineCount];
        Array.Fill(facts, new LineFacts(-1, 0, 16, LineRole.AfterEnd, 0));
        return facts;
    }

    private void WalkLines(LineCursor cursor, LineFacts[]? facts, bool again = false)
    {
        // Includes begin a new count of macros, so both together are counted here: each level takes its part of the stack.
        if (++nesting > DeepestNesting)
        {
            if (!Ended)
                Stop(
                    cursor.Via?.Outermost ?? new SourcePlace(including.Peek(), 0, default),
                    null,
                    $"Macros, loops and included files are nested more than {DeepestNesting} levels deep from here."
                );
            nesting--;
            return;
        }

        (LineCursor outerCursor, int outerFloor) = (Cursor, ConditionFloor);
        Cursor = cursor;
        ConditionFloor = Conditions.Depth;
        while (!Ended && !FileEnded && cursor.TryNext(out EffectiveLine line))
        {
            // Lines that are read more than once count, however they come here: that bounds the time.
            if ((facts is null || again) && !CountExpanded(line))
                break;
            if (facts is null)
            {
                Process(line);
                continue;
            }

            Work.Line();
            Placer.BeginLine();
            Role = Conditions.IsSkipping ? LineRole.Skipped : LineRole.None;
            int radix = Radix,
                location = Placer.Location;
            Process(line);
            facts[line.Number] = new LineFacts(Placer.FirstOfLine, Placer.WordsOfLine, radix, Role, location);
        }

        foreach ((SourcePlace place, string word) in Conditions.CloseDownTo(ConditionFloor))
            if (!cursor.WasLeft && !WasStopped)
                Report(Catalogue.BlockNotClosed, place, cursor.Via, word, "'endif'");
        (Cursor, ConditionFloor) = (outerCursor, outerFloor);
        nesting--;
    }

    private void Note(in EffectiveLine line, LineRole role)
    {
        if (line.Via is null && Facts.TryGetValue(line.File, out LineFacts[]? facts))
            facts[line.Number] = new LineFacts(-1, 0, Radix, role, Placer.Location);
    }

    private void Process(EffectiveLine line)
    {
        if (line.Syntax.IsBlank)
            return;
        if (Conditions.IsSkipping)
        {
            // Only the words that open and close choices are followed; their operands are not looked at.
            if (
                line.Syntax.OperationKind == OperationKind.Directive
                && DirectiveList.Find(line.Syntax) is { RunsWhileSkipping: true } choice
            )
                choice.Execute(this, line);
            return;
        }

        if (Cursor.Parameters is { } parameters)
            line = Substitution.WithParameters(line, parameters);
        if (line.Syntax.HasPastedNumber)
            line = Substitution.WithPastedNumbers(line);
        if (OpenBlock is not null && BlockDirective.TryMember(this, line))
            return;
        if (Substitution.IsActive && DirectiveList.Find(line.Syntax) is not { KeepsOperands: true })
            line = Substitution.WithDefines(line);
        line = AsMacroCall(line);

        LineSyntax syntax = line.Syntax;
        if (syntax.OperationNotIndented && syntax.Operation is { } early)
        {
            // What is in column 1 of a macro's body says nothing about the line of the call.
            if (line.Via is null)
                Role |= LineRole.FirstWordIsOperation;
            Report(
                Catalogue.OperationNotIndented,
                line.Place(syntax.OperationToken),
                line.Via,
                early,
                syntax.OperationKind switch
                {
                    OperationKind.Instruction => "an instruction",
                    OperationKind.Unknown => "a macro",
                    _ => "a directive",
                }
            );
        }

        if (syntax.LabelIndented)
            Report(Catalogue.LabelIndented, line.Place(syntax.LabelToken), line.Via, syntax.Label!);

        if (
            HasOperationMacros
            && syntax.OperationKind is OperationKind.Instruction or OperationKind.Directive
            && OwnMacro(syntax.Operation!, line.Via) is { } own
        )
        {
            CallMacro(line, own);
            return;
        }

        switch (syntax.OperationKind)
        {
            case OperationKind.Instruction:
                if (
                    syntax.LabelToken >= 0
                    && syntax.OperationKind == OperationKind.Instruction
                    && OperationWords.KindOf(syntax.Label!) == OperationKind.Instruction
                )
                    Report(Catalogue.LabelNamedLikeOperation, line.Place(syntax.LabelToken), line.Via, syntax.Label!);
                LeaveDataSection(line);
                DefineLabel(line);
                instructions.Assemble(line);
                break;
            case OperationKind.Directive:
                Directive directive = DirectiveList.Find(syntax)!;
                if (directive.MakesWords)
                    LeaveDataSection(line);
                if (!directive.UsesLabel)
                    DefineLabel(line);
                if (syntax.LabelToken >= 0 && directive.IsOddAfterLabel)
                    Report(
                        Catalogue.LabelWithoutUse,
                        line.Place(syntax.LabelToken),
                        line.Via,
                        syntax.Label!,
                        syntax.Operation!
                    );
                directive.Execute(this, line);
                break;
            case OperationKind.Assignment:
                DirectiveList.Find(syntax)!.Execute(this, line);
                break;
            default:
                OtherOperation(line);
                break;
        }
    }

    // Program words in a section for registers: published programs forget the line that ends the section.
    private void LeaveDataSection(in EffectiveLine line)
    {
        if (!Placer.IsData || Placer.Section is { Kind: SectionKind.InitializedData })
            return;
        Placer.LeaveData();
        Report(
            Catalogue.CodeInDataSection,
            line.OperationPlace,
            line.Via,
            line.Syntax.Operation!,
            Show.Hex(Placer.Location)
        );
    }

    // A macro's name in column 1 is its call where nothing else on the line can be an operation.
    private EffectiveLine AsMacroCall(in EffectiveLine line)
    {
        LineSyntax syntax = line.Syntax;
        if (IsLabelBeforeCall(syntax))
            return line.With(syntax.WithFirstWordAsLabel());
        if (syntax.LabelToken < 0 || syntax.ColonToken >= 0 || syntax.OperationKind == OperationKind.Assignment)
            return line;
        if (syntax.OperationKind == OperationKind.Directive && DirectiveList.Find(syntax) is MacroDirective)
            return line;
        // A macro's name cannot be a label as well, so an operation after it is its argument: 'twice incf,20'.
        if (syntax.OperationKind != OperationKind.Unknown)
            return IsMacro(syntax.Label!) ? line.With(syntax.WithFirstWordAsOperation()) : line;
        if (syntax.Operation is { } operation && IsMacro(operation))
            return line;
        return IsMacro(syntax.Label!) ? line.With(syntax.WithFirstWordAsOperation()) : line;
    }

    // ' main send 5': the second word is a macro and the first one nothing, so that it can only be a label.
    private bool IsLabelBeforeCall(LineSyntax syntax)
    {
        if (syntax.LabelToken >= 0 || syntax.OperationToken < 0 || syntax.OperationKind != OperationKind.Unknown)
            return false;
        int next = syntax.FirstOperandToken;
        while (next < syntax.EndOfCode && syntax.Tokens[next].Kind == TokenKind.Blank)
            next++;
        return next < syntax.EndOfCode
            && syntax.Tokens[next].Kind == TokenKind.Name
            && IsMacro(syntax.TextOf(next))
            && !IsMacro(syntax.Operation!);
    }

    private void OtherOperation(in EffectiveLine line)
    {
        LineSyntax syntax = line.Syntax;
        if (syntax.OperationToken < 0)
        {
            if (syntax.LabelToken >= 0)
            {
                DefineLabel(line);
                if (syntax.OperandSpan.Length > 0)
                    Report(
                        Catalogue.NotAnOperation,
                        line.Place(syntax.OperandSpan),
                        line.Via,
                        syntax.Label!,
                        syntax.OperandText
                    );
            }
            else
            {
                Report(
                    Catalogue.UnknownOperation,
                    line.Place(syntax.CodeSpan),
                    line.Via,
                    $"'{syntax.OperandText}'",
                    Hints.ForStoppedChoice(this)
                );
            }

            return;
        }

        string name = syntax.Operation!;
        if (FindMacro(name) is { } macro)
        {
            CallMacro(line, macro);
            return;
        }

        // An indented lone name: a label, if something refers to it.
        if (syntax.LabelToken < 0 && syntax.OperandSpan.Length == 0)
        {
            SourcePlace place = line.Place(syntax.OperationToken);
            bool wanted = Unit.Missed.Contains(name) || (Symbols.TryGet(name, out Symbol? known) && known.IsReferenced);
            if (wanted || Symbols.Pass == 1)
            {
                Symbols.NoteMissed();
                Role |= LineRole.LoneLabel;
                Report(Catalogue.LabelIndented, place, line.Via, name);
                Define(
                    name,
                    Placer.IsData ? SymbolKind.BlockMember : SymbolKind.Label,
                    Placer.Location,
                    place,
                    line.Via
                );
                return;
            }
        }

        DefineLabel(line);
        if (missingInclude is not null && syntax.OperationKind == OperationKind.Unknown)
        {
            Report(Catalogue.NameOfMissingFile, line.Place(syntax.OperationToken), line.Via, name, missingInclude);
            return;
        }

        Report(
            Catalogue.UnknownOperation,
            line.Place(syntax.OperationToken),
            line.Via,
            name,
            Hints.ForOperation(name, this)
        );
    }

    private void CallMacro(in EffectiveLine line, Symbol macro)
    {
        DefineLabel(line);
        Role |= LineRole.MacroCall;
        SourcePlace place = line.Place(line.Syntax.OperationToken);
        NoteReference(macro, place, line.Via);
        if (macro.Name != line.Syntax.Operation)
            Report(Catalogue.NameDiffersByCase, place, line.Via, line.Syntax.Operation!, macro.Name);
        MacroCall.Execute(this, line, macro);
    }

    // The macro that the program puts in place of an operation of the language; in its own lines the operation is meant.
    private Symbol? OwnMacro(string name, Expansion? via)
    {
        if (Symbols.FindOperationMacro(name) is not { } macro)
            return null;
        for (; via is not null; via = via.Parent)
            if (via.Name == macro.Name)
                return null;
        return macro;
    }

    private static bool IsWord(LineSyntax syntax, string word) =>
        syntax.OperationToken >= 0
        && syntax.SpanOf(syntax.OperationToken).TrimStart('#').Equals(word, StringComparison.OrdinalIgnoreCase);
}
