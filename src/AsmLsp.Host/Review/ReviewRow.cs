using AsmLsp.Core.Text;

namespace AsmLsp.Host.Review;

/// <summary>A printed line as the review page shows it.</summary>
/// <param name="Place">Where it is.</param>
/// <param name="Text">Its text as printed.</param>
internal readonly record struct ShownPrint(PrintedPlace Place, string Text);

/// <summary>One row: printed lines on the left, the source line that came of them on the right.</summary>
/// <param name="Printed">The printed lines, in order; none for a line that was put in.</param>
/// <param name="SourceLine">The line of the source, from 0, or -1.</param>
internal sealed record ReviewRow(IReadOnlyList<ShownPrint> Printed, int SourceLine)
{
    /// <summary>For a printed line that was joined to a source line on another page or further above: that line, from 0; else -1.</summary>
    public int JoinedTo { get; init; } = -1;

    /// <summary>Whether the line above and this one were printed as one line.</summary>
    public bool IsSplit { get; init; }

    /// <summary>Whether it is text of the document that is not in the source.</summary>
    public bool IsLeftOut => SourceLine < 0 && JoinedTo < 0;
}

/// <summary>A page with its rows.</summary>
/// <param name="Number">Its number, from 1; 0 for a pasted text.</param>
/// <param name="Rows">Its rows, in order.</param>
internal sealed record ReviewSheet(int Number, List<ReviewRow> Rows)
{
    /// <summary>What there is to say about the page as a whole, or null.</summary>
    public string? Note { get; init; }

    /// <summary>Whether any line of the source comes from it.</summary>
    public bool HasProgram => Rows.Exists(static r => !r.IsLeftOut);
}
