using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>A routine by its lines.</summary>
internal sealed record RoutineLines(SourceFile File, OutlineEntry Entry)
{
    public string Name => Entry.Name;
}

/// <summary>A call or jump from one line to a routine.</summary>
internal sealed record RoutineUse(SourceFile File, int Line, TextSpan Columns, bool IsCall, string Target);

/// <summary>The routines of a program and who goes where; worked out once a version.</summary>
internal sealed class Routines
{
    private readonly Dictionary<string, RoutineLines> byName = new(StringComparer.Ordinal);
    private readonly List<RoutineLines> all = [];
    private readonly List<RoutineUse> uses = [];

    private Routines(ProgramSet set, ProgramVersion program)
    {
        foreach (SourceFile file in program.Analysis.Files)
        {
            Collect(file, Outline.Of(new FileView(set, program, file, set.DocumentOf(file), set.UriOf(file))));
        }

        foreach (SourceFile file in program.Analysis.Files)
        {
            int number = 0;
            foreach (TextLine line in file.Text.Lines)
            {
                if ((program.Analysis.FactsOf(file, number).Role & (LineRole.Skipped | LineRole.AfterEnd)) == 0)
                {
                    Take(program, file, number, LineSyntax.Of(line));
                }

                number++;
            }
        }
    }

    /// <summary>The routines in the order of the files.</summary>
    public IReadOnlyList<RoutineLines> All => all;

    public static Routines Of(ProgramSet set, ProgramVersion program) => program.Derive(of => new Routines(set, of));

    /// <summary>The routine with a name, or null.</summary>
    public RoutineLines? Find(string name) => byName.GetValueOrDefault(name);

    /// <summary>The routine that a line belongs to, or null.</summary>
    public RoutineLines? At(SourceFile file, int line)
    {
        RoutineLines? found = null;
        foreach (RoutineLines routine in all)
        {
            if (routine.File == file && line >= routine.Entry.FirstLine && line <= routine.Entry.LastLine)
            {
                found = routine;
            }
        }

        return found;
    }

    /// <summary>The calls of a routine, and the jumps to it from elsewhere.</summary>
    public IEnumerable<RoutineUse> Into(RoutineLines routine) =>
        uses.Where(use => use.Target == routine.Name && (use.IsCall || At(use.File, use.Line) != routine));

    /// <summary>The calls of other routines inside a routine, and the jumps out of it.</summary>
    public IEnumerable<RoutineUse> OutOf(RoutineLines routine) =>
        uses.Where(use =>
            use.File == routine.File
            && use.Line >= routine.Entry.FirstLine
            && use.Line <= routine.Entry.LastLine
            && (use.IsCall || use.Target != routine.Name)
        );

    private void Collect(SourceFile file, ImmutableArray<OutlineEntry> entries)
    {
        foreach (OutlineEntry entry in entries)
        {
            if (entry.Kind == Protocol.SymbolKind.Function)
            {
                var routine = new RoutineLines(file, entry);
                all.Add(routine);
                byName.TryAdd(entry.Name, routine);
            }

            Collect(file, entry.Children);
        }
    }

    private void Take(ProgramVersion program, SourceFile file, int number, LineSyntax line)
    {
        if (line.OperationKind != OperationKind.Instruction || line.Operands.Length == 0)
        {
            return;
        }

        string word = line.Operation!.ToLowerInvariant();
        if ((InstructionSet.Find(word)?.Operands ?? Shorthand.Find(word)?.Operands) != OperandKind.Address11)
        {
            return;
        }

        OperandSyntax target = line.Operands[0];
        if (target.Value is NameExpression name && NameOf(program, name.Name) is { } found)
        {
            uses.Add(new RoutineUse(file, number, target.Span, word is "call" or "lcall", found));
        }
    }

    // By its case first, else the one routine that differs by case only, as the assembler looks.
    private string? NameOf(ProgramVersion program, string name)
    {
        if (byName.ContainsKey(name))
        {
            return name;
        }

        if (program.Analysis.FindSymbol(name) is not null)
        {
            return null;
        }

        string[] others =
        [
            .. byName.Keys.Where(known => known.Equals(name, StringComparison.OrdinalIgnoreCase)).Take(2),
        ];
        return others.Length == 1 ? others[0] : null;
    }
}
