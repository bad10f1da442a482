using System.CommandLine;

namespace AsmLsp.Verbs;

/// <summary>One verb of the command line.</summary>
internal interface IVerb
{
    /// <summary>Its name, arguments, options and help, with the action that runs it.</summary>
    Command Create();
}
