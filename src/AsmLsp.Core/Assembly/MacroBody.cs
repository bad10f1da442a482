using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>The lines between <c>macro</c> and <c>endm</c>, or of a loop, as they was when they were read.</summary>
internal sealed class MacroBody(IReadOnlyList<EffectiveLine> lines, SourcePlace opening)
{
    public IReadOnlyList<EffectiveLine> Lines { get; } = lines;

    public SourcePlace Opening { get; } = opening;
}
