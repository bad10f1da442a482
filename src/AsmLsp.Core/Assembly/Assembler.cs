using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Assembles a program: walks over it until addresses and values stand still, then looks at the whole.</summary>
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
            root,
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
    )
    {
        var symbols = new SymbolTable();
        var layout = new SectionLayout();
        var missed = new HashSet<string>(StringComparer.Ordinal);
        var parsed = new Dictionary<string, LineSyntax>(StringComparer.Ordinal);
        AssemblyPass? pass = null;
        bool settled;
        do
        {
            symbols.BeginPass();
            pass = new AssemblyPass(symbols, layout, missed, parsed, work, includes, options, sink, pass);
            pass.Run(root);
            symbols.EndPass();
            settled = !symbols.Changed & !ProgramChecks.SettleSections(pass);
        } while (!settled && symbols.Pass < (pass.WasStopped ? PassesWhenStopped : MostPasses));

        if (!settled && !pass.WasStopped)
        {
            Symbol? restless =
                symbols.LastChanged is { } name && symbols.TryGet(name, out Symbol? symbol) ? symbol : null;
            SourcePlace place =
                restless?.Definition ?? new SourcePlace(root, 0, new TextSpan(0, root.Text[0].Text.Length));
            pass.Report(Catalogue.ValueNotSettled, place, null, restless?.Name ?? "a place");
        }

        pass.ReportUnexplained();
        ProgramChecks.Run(pass, root);
        return new ProgramAnalysis(root, includes, options, pass, symbols.All);
    }
}
