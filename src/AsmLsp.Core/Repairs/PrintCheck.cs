using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Finds one thing that printing does to a program, and repairs it.</summary>
internal abstract class PrintCheck : FixProvider
{
    /// <summary>When it looks at a text.</summary>
    public virtual CheckTurn Turn => CheckTurn.InOrderOfFixes;

    /// <summary>Adds what it finds; lines that an earlier check has explained are left alone.</summary>
    public abstract void Find(CheckedFile view);
}

/// <summary>When a check looks at a text.</summary>
internal enum CheckTurn
{
    /// <summary>Before all others: what a person has marked is not explained once more.</summary>
    First,

    /// <summary>In the order in which the fixes are made.</summary>
    InOrderOfFixes,

    /// <summary>After all others: about the columns of what they left unexplained.</summary>
    Last,
}

/// <summary>What a check found: the problem, and the lines whose other problems are mere consequences.</summary>
/// <param name="Problem">The problem.</param>
/// <param name="FirstLine">The first line that it explains.</param>
/// <param name="LastLine">The last one.</param>
/// <param name="Explains">What it explains there.</param>
internal readonly record struct Finding(Problem Problem, int FirstLine, int LastLine, Explains Explains);

/// <summary>Which other problems of its lines a finding explains.</summary>
internal enum Explains
{
    /// <summary>None.</summary>
    Nothing,

    /// <summary>Those that touch the same characters.</summary>
    SameCharacters,

    /// <summary>Those about what the text says, not those about values.</summary>
    Reading,

    /// <summary>All of the line.</summary>
    WholeLine,

    /// <summary>Names that are not found, wherever they are used.</summary>
    NamesAfter,

    /// <summary>Labels and lone names of the whole text.</summary>
    Columns,
}
