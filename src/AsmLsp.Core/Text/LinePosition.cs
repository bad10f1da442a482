namespace AsmLsp.Core.Text;

/// <summary>A place in a text: line and column, both from 0; the column counts UTF-16 code units.</summary>
public readonly record struct LinePosition(int Line, int Column) : IComparable<LinePosition>
{
    /// <inheritdoc/>
    public int CompareTo(LinePosition other) =>
        Line != other.Line ? Line.CompareTo(other.Line) : Column.CompareTo(other.Column);

    /// <summary>Whether the left place comes first.</summary>
    public static bool operator <(LinePosition left, LinePosition right) => left.CompareTo(right) < 0;

    /// <summary>Whether the left place comes last.</summary>
    public static bool operator >(LinePosition left, LinePosition right) => left.CompareTo(right) > 0;

    /// <summary>Whether the left place does not come after the right one.</summary>
    public static bool operator <=(LinePosition left, LinePosition right) => left.CompareTo(right) <= 0;

    /// <summary>Whether the left place does not come before the right one.</summary>
    public static bool operator >=(LinePosition left, LinePosition right) => left.CompareTo(right) >= 0;
}
