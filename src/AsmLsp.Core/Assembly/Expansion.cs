using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Where a line comes from that does not be in a file itself: the call of a macro or the turn of a loop, with the
/// place of the call, and the expansion in which that call was.
/// </summary>
public sealed class Expansion(string name, SourcePlace call, Expansion? parent)
{
    /// <summary>The macro's name, or "while".</summary>
    public string Name { get; } = name;

    /// <summary>The place of the call.</summary>
    public SourcePlace Call { get; } = call;

    /// <summary>The expansion that holds the call, or null where it is in a file.</summary>
    public Expansion? Parent { get; } = parent;

    /// <summary>How many expansions are inside each other here, at least 1.</summary>
    public int Depth { get; } = (parent?.Depth ?? 0) + 1;

    /// <summary>The outermost call: a line of a file.</summary>
    public SourcePlace Outermost => Parent?.Outermost ?? Call;
}
