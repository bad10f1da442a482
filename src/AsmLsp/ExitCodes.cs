namespace AsmLsp;

/// <summary>What the process says to scripts.</summary>
internal static class ExitCodes
{
    /// <summary>Nothing left to do.</summary>
    public const int Clean = 0;

    /// <summary>Problems or doubts remain; each is in the report.</summary>
    public const int ProblemsRemain = 1;

    /// <summary>The input or the command line is not usable.</summary>
    public const int Unusable = 2;
}
