namespace AsmLsp.Core.Layout;

/// <summary>What a layout is to look like; what is left out is taken from the file itself.</summary>
public sealed record FormatOptions
{
    /// <summary>The usual: as the author did.</summary>
    public static FormatOptions Default { get; } = new();

    /// <summary>Column of operations, from 0; null takes the file's own, or 8.</summary>
    public int? OperationColumn { get; init; }

    /// <summary>Column of operands, from 0; 0 for one blank after the operation; null takes the file's own, or 8 after the operations.</summary>
    public int? OperandColumn { get; init; }

    /// <summary>
    /// Whether gaps are made of tabs; null takes what most lines of the file start with. False also puts blanks in place
    /// of the tabs that are there, outside of texts and comments.
    /// </summary>
    public bool? UseTabs { get; init; }

    /// <summary>Columns of a tab, at least 1.</summary>
    public int TabSize { get; init; } = 8;
}

/// <summary>A range of lines, from 0, both ends included.</summary>
public readonly record struct LineRange(int First, int Last)
{
    /// <summary>Whether a line lies in the range.</summary>
    public bool Contains(int line) => line >= First && line <= Last;
}
