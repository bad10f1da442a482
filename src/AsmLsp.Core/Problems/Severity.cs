namespace AsmLsp.Core.Problems;

/// <summary>How much a problem weighs.</summary>
public enum Severity
{
    /// <summary>No HEX is written.</summary>
    Error,

    /// <summary>Something a person must look at; the HEX is written, with the warning in its summary.</summary>
    Warning,

    /// <summary>Worth knowing.</summary>
    Information,
}
