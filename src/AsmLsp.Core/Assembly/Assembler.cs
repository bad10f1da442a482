using System.Collections.Immutable;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Assembles a program: walks over it until addresses and values no longer change, then looks at the whole.</summary>
public static class Assembler
{
    private const int MostPasses = 24;

    // A program that reaches a limit is not built: no need to bring its addresses to rest, which costs the same again.
    private const int PassesWhenStopped = 1;

    /// <summary>
    /// Assembles the program that starts with a file. Never fails: what is wrong is in the problems of the result, and
    /// the image holds what could be made (which is no HEX to be used while there are errors).
    /// </summary>
    /// <exception cref="OperationCanceledException">The result is not wanted any more.</exception>
    public static ProgramAnalysis Assemble(
        SourceFile root,
        IIncludeResolver? includes = null,
        AssemblyOptions? options = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(root);
        return Assemble(
            [root],
            includes ?? NoIncludes.Instance,
            options ?? AssemblyOptions.Default,
            null,
            new AssemblyWork(cancellation)
        );
    }

    /// <summary>
    /// Assembles a program of several sources into one image. Each has names of its own; 'global' and 'extern' share
    /// them. Sections without an address are placed by the tool.
    /// </summary>
    public static ProgramAnalysis Assemble(
        ImmutableArray<SourceFile> roots,
        IIncludeResolver? includes = null,
        AssemblyOptions? options = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentOutOfRangeException.ThrowIfZero(roots.Length);
        return Assemble(
            roots,
            includes ?? NoIncludes.Instance,
            options ?? AssemblyOptions.Default,
            null,
            new AssemblyWork(cancellation)
        );
    }

    internal static ProgramAnalysis Assemble(
        SourceFile root,
        IIncludeResolver includes,
        AssemblyOptions options,
        IReferenceSink? sink,
        AssemblyWork work
    ) => Assemble([root], includes, options, sink, work);

    internal static ProgramAnalysis Assemble(
        ImmutableArray<SourceFile> roots,
        IIncludeResolver includes,
        AssemblyOptions options,
        IReferenceSink? sink,
        AssemblyWork work
    )
    {
        ProgramUnit[] units = [.. roots.Select(static (root, number) => new ProgramUnit(root, number))];
        SourceFile? defines = OutsideDefines.FileOf(options.Defines);
        var layout = new SectionLayout();
        var parsed = new Dictionary<string, LineSyntax>(StringComparer.Ordinal);
        AssemblyPass? pass = null;
        bool converged;
        int passes = 0;
        do
        {
            foreach (ProgramUnit unit in units)
                unit.BeginPass();
            pass = new AssemblyPass(units, layout, parsed, work, includes, options, sink, pass) { Defines = defines };
            pass.Run();
            foreach (ProgramUnit unit in units)
                unit.Symbols.EndPass();
            passes++;
            converged =
                !units.Any(static unit => unit.Symbols.Changed)
                & !ProgramChecks.PlaceSections(pass)
                & !pass.Chip.WasWrong;
        } while (!converged && passes < (pass.WasStopped ? PassesWhenStopped : MostPasses));

        if (!converged && !pass.WasStopped)
        {
            SymbolTable symbols =
                units.FirstOrDefault(static unit => unit.Symbols.Changed)?.Symbols ?? units[0].Symbols;
            Symbol? restless =
                symbols.LastChanged is { } name && symbols.TryGet(name, out Symbol? symbol) ? symbol : null;
            SourcePlace place = restless?.Definition ?? ProgramChecks.Top(roots[0]);
            pass.Report(Catalogue.ValueKeepsChanging, place, null, restless?.Name ?? "a place");
        }

        pass.ReportUnexplained();
        ProgramChecks.Run(pass);
        return new ProgramAnalysis(roots, includes, options, pass);
    }
}
