using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Explain;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Fuzz;

/// <summary>
/// Work grows with the size of a text and not with its square. What is counted is memory handed out and the steps of the assembly, which are
/// the same on every machine; a clock says nothing on a busy one.
/// </summary>
public class GrowthTests
{
    private const int Small = 400,
        Times = 4;

    // Four times the text may cost up to six times as much: tables grow in steps.
    private const double Most = 6.5;

    public static TheoryData<string, string, string> Kinds =>
        new()
        {
            { "", "lab{0}\n", "" },
            { " list p=16f84a\n", " nop", "\n end\n" },
            { " dw ", "{0},", "1\n end\n" },
            { "", "word{0} ", "\n" },
            { "", "Once upon a time {0} in the book of words\n", "" },
            { "", " movlw name{0}\n", " end\n" },
            { "", "some name word{0} other\n movlw word{0}\n", "" },
            { " nop\n", "m{0} macro\n nop\n endm\nmm{0}\n", " end\n" },
            { " movlw 1", "+1", "\n end\n" },
            { " dw ", "#v({0}),", "1\n end\n" },
            { "", "#define a{0} {0}\n movlw a{0}\n", " end\n" },
            { "#define a0 1\n dw ", "a0,", "1\n end\n" },
            { " cblock 20\n", "v{0}\n", " endc\n nop\n end\n" },
            { "", "Page {0}\n\nThe title\n nop\n nop\n", " end\n" },
            { " nop ;", " word{0} the", "\n end\n" },
            { "", " movlw 5 ;? was 6\n", " end\n" },
            { "", "N{0} equ {0}\n movlw n{0}\n", " end\n" },
            { "m macro a\n movlw a\n endm\n", " m {0}\n", " end\n" },
            { "start nop\n", " goto start\n", " end\n" },
            { "", "@ ! € {0} ? \n", "" },
        };

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Work_grows_with_the_text(string before, string repeated, string after)
    {
        Costs(before, repeated, after, Small);
        (long steps, long bytes) = Costs(before, repeated, after, Small);
        (long moreSteps, long moreBytes) = Costs(before, repeated, after, Small * Times);
        Assert.InRange((double)moreSteps / steps, 0, Most);
        // What is made once for a program of any size is left out of the comparison.
        const long once = 1_000_000;
        Assert.InRange((double)moreBytes / (bytes + once), 0, Most);
    }

    private static (long Steps, long Bytes) Costs(string before, string repeated, string after, int times)
    {
        string text =
            before
            + string.Concat(
                Enumerable.Range(0, times).Select(i => string.Format(CultureInfo.InvariantCulture, repeated, i))
            )
            + after;
        long start = GC.GetAllocatedBytesForCurrentThread();
        var file = new SourceFile("test.asm", SourceText.From(text));
        var work = new AssemblyWork(CancellationToken.None);
        ProgramAnalysis program = Assembler.Assemble(file, NoIncludes.Instance, AssemblyOptions.Default, null, work);
        ProgramProblems.All(program, file);
        for (int i = 0; i < file.Text.LineCount; i++)
            Explainer.Line(program, file, i);
        Formatter.Format(program, file);
        return (work.Steps, GC.GetAllocatedBytesForCurrentThread() - start);
    }
}
