using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Walks over lines: those of a file, or those of an expansion. Directives that span lines move it on.</summary>
internal sealed class LineCursor
{
    private readonly SourceFile? file;
    private readonly IReadOnlyList<EffectiveLine>? lines;
    private readonly int count;
    private int next;

    public LineCursor(SourceFile file)
    {
        this.file = file;
        count = file.Text.LineCount;
    }

    public LineCursor(IReadOnlyList<EffectiveLine> lines, Expansion? via, Dictionary<string, MacroArgument>? parameters)
    {
        this.lines = lines;
        Via = via;
        Parameters = parameters;
        count = lines.Count;
    }

    /// <summary>The expansion that the lines belong to, or null for a file.</summary>
    public Expansion? Via { get; }

    /// <summary>What the parameters and local names of a macro mean in this call, or null.</summary>
    public Dictionary<string, MacroArgument>? Parameters { get; }

    /// <summary>For a loop: the lines that it is in.</summary>
    public LineCursor? Around { get; init; }

    public bool TryNext(out EffectiveLine line)
    {
        if (next >= count)
        {
            line = default;
            return false;
        }

        line = file is not null
            ? new EffectiveLine(LineSyntax.Of(file.Text[next]), file, next, null)
            : new EffectiveLine(lines![next].Syntax, lines[next].File, lines[next].Number, Via, lines[next].Pieces);
        next++;
        return true;
    }

    /// <summary>Leaves out the rest of the lines; leaving a loop inside a macro leaves the macro.</summary>
    public void Leave()
    {
        next = count;
        WasLeft = true;
        Around?.Leave();
    }

    /// <summary>Whether the lines were left before their end, so that choices still open are no fault.</summary>
    public bool WasLeft { get; private set; }
}
