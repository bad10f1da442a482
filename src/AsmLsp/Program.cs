using System.Runtime.CompilerServices;
using AsmLsp.Verbs;

namespace AsmLsp;

internal static class Program
{
    /// <summary>
    /// An editor waits for <c>serve</c>, so that verb goes ahead without the libraries for command lines and colored text being loaded.
    /// </summary>
    private static int Main(string[] args) =>
        args is ["serve", .. var rest] && !rest.Any(ServeVerb.AsksForHelp) ? ServeVerb.Run(rest) : RunCommandLine(args);

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static int RunCommandLine(string[] args) =>
        CommandLine.Run(args, StandardStreams.OutputWriter(), StandardStreams.ErrorWriter());
}
