using System.Globalization;
using System.Text;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

/// <summary>A long program under many keystrokes: each is answered, by its own version. How fast is a benchmark's matter (tests/Benchmarks).</summary>
public sealed class LongProgramTests
{
    private const int Lines = 10_000;

    [Fact]
    public async Task Each_keystroke_in_ten_thousand_lines_is_answered_with_the_problems_of_its_version()
    {
        await using Desk desk = await Desk.StartAsync();
        desk.Open("main.asm", Source());
        await desk.ProblemsAsync("main.asm");
        for (int version = 2; version < 32; version++)
        {
            desk.Session.Change(
                desk.UriOf("main.asm"),
                version,
                Session.Edit(5000, 7, 5000, 8, version % 2 == 0 ? "4" : "5")
            );
            string[] problems = await desk.ProblemsAsync("main.asm", version);
            // The letters of an operation are overwritten: that line has a problem in each of these versions.
            Assert.Equal(["5001:unknown-operation"], problems);
        }
    }

    /// <summary>Routines of ten lines, with names, registers and comments, as a long listing has them; 4K words fill the largest pages.</summary>
    internal static string Source()
    {
        var text = new StringBuilder(
            " list p=16f877a\n#include <p16f877a.inc>\n __config 0x3f39\n cblock 0x20\n count, mask\n endc\n org 0\nstart\n"
        );
        int line = 8,
            routine = 0;
        while (line < Lines - 1)
        {
            switch (line % 10)
            {
                case 0:
                    text.Append(CultureInfo.InvariantCulture, $"r{routine++} movf count,w ; take it\n");
                    break;
                case 1 or 2 or 3 or 4:
                    text.Append("; what this part is for\n");
                    break;
                case 5:
                    text.Append(" movlw 0x4\n");
                    break;
                case 6:
                    text.Append(" andwf mask,f\n");
                    break;
                case 7:
                    text.Append(CultureInfo.InvariantCulture, $" btfss mask,{routine % 8}\n");
                    break;
                case 8:
                    text.Append(CultureInfo.InvariantCulture, $" goto r{Math.Max(0, routine - 1)}\n");
                    break;
                default:
                    text.Append(" nop\n");
                    break;
            }

            line++;
        }

        return text.Append(" end\n").ToString();
    }
}
