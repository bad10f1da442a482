using System.CommandLine;

namespace AsmLsp.Verbs;

/// <summary>One verb of the command line.</summary>
internal interface IVerb
{
    /// <summary>Command lines that show how it is used, for its own help; the overview leaves them out.</summary>
    IReadOnlyList<string> Examples { get; }

    /// <summary>Its name, arguments, options and help, with the action that runs it.</summary>
    Command Create();
}
