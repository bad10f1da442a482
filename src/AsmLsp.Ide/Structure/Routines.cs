using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Names;

namespace AsmLsp.Ide.Structure;

/// <summary>A routine by its lines.</summary>
/// <param name="File">The file.</param>
/// <param name="Entry">The routine in the outline of the file.</param>
public sealed record RoutineLines(SourceFile File, OutlineEntry Entry)
{
    /// <summary>Its label.</summary>
    public string Name => Entry.Name;

    /// <summary>Where its label is.</summary>
    public SourcePlace Place => new(File, Entry.Line, Entry.Columns);
}

/// <summary>A call or jump from one line to a routine.</summary>
/// <param name="File">The file.</param>
/// <param name="Line">The line, from 0.</param>
/// <param name="Columns">The name of the routine on the line.</param>
/// <param name="IsCall">Whether the program comes back from there.</param>
/// <param name="Target">The name of the routine.</param>
public sealed record RoutineUse(SourceFile File, int Line, TextSpan Columns, bool IsCall, string Target)
{
    /// <summary>Where the name is.</summary>
    public SourcePlace Place => new(File, Line, Columns);
}

/// <summary>The calls and jumps between one routine and another.</summary>
/// <param name="Routine">The other routine.</param>
/// <param name="Places">Where they are.</param>
public sealed record RoutineCalls(RoutineLines Routine, ImmutableArray<SourcePlace> Places);

/// <summary>The routines of a program and who goes where; worked out once a version.</summary>
public sealed class Routines
{
    private readonly Dictionary<string, RoutineLines> byName = new(StringComparer.Ordinal);
    private readonly List<RoutineLines> all = [];
    private readonly List<RoutineUse> uses = [];

    private Routines(ProgramModel program)
    {
        foreach (SourceFile file in program.Analysis.Files)
        {
            Collect(file, Outline.Of(program.FileOf(file)));
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

    /// <summary>The routines of a program.</summary>
    public static Routines Of(ProgramModel program) => program.Derive(static of => new Routines(of));

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

    /// <summary>The routine whose name is at a place, or null: on an instruction nothing is called by that name.</summary>
    public RoutineLines? NamedAt(ProgramFile file, LinePosition at) =>
        NameUse.At(file, at) is { Kind: NameKind.Program } name ? Find(name.Name) : null;

    /// <summary>The routines that call a routine or jump to it.</summary>
    public IEnumerable<RoutineCalls> CallersOf(RoutineLines routine) =>
        Into(routine)
            .GroupBy(use => At(use.File, use.Line))
            .Where(group => group.Key is not null)
            .Select(group => new RoutineCalls(group.Key!, [.. group.Select(use => use.Place)]));

    /// <summary>The routines that a routine calls or jumps to.</summary>
    public IEnumerable<RoutineCalls> CalledFrom(RoutineLines routine) =>
        OutOf(routine)
            .GroupBy(use => use.Target)
            .Select(group => new RoutineCalls(Find(group.Key)!, [.. group.Select(use => use.Place)]));

    private void Collect(SourceFile file, ImmutableArray<OutlineEntry> entries)
    {
        foreach (OutlineEntry entry in entries)
        {
            if (entry.Kind == OutlineKind.Routine)
            {
                var routine = new RoutineLines(file, entry);
                all.Add(routine);
                byName.TryAdd(entry.Name, routine);
            }

            Collect(file, entry.Children);
        }
    }

    private void Take(ProgramModel program, SourceFile file, int number, LineSyntax line)
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
    private string? NameOf(ProgramModel program, string name)
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
