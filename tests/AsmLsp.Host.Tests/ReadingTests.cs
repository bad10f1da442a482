using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Text;
using AsmLsp.Host.Comparison;

namespace AsmLsp.Host.Tests;

public class ReadingTests
{
    private const string Lamp = """
                list    p=16f84a
                __config 0x3ff1
        ticks   equ     0x0c
                org     0
        start   movlw   0x3c        ; sixty
                movwf   ticks
        wait    clrwdt
                decfsz  ticks,f
                goto    wait
                bsf     6,1
                bcf     6,2
                bsf     6,3
                goto    start
                end

        """;

    [Fact]
    public void Blanks_comments_case_and_notation_are_no_differences()
    {
        SourceComparison comparison = Compare(
            Lamp,
            "; typed on Sunday\nLIST p=16f84a\n\n __CONFIG 3FF1\nTicks EQU 0Ch\n ORG 0x00\nSTART: movlw h'3C' ; 60\n MOVWF  TICKS\nWait clrwdt\n decfsz Ticks , F\n goto Wait\n bsf 6,1\n bcf 6,2\n bsf 6,3\n goto Start\n END\nthat was all\n"
        );
        Assert.Empty(comparison.Differences);
        Assert.True(comparison.IsSame);
        Assert.Equal(14, comparison.Agreeing);
    }

    [Theory]
    [InlineData("0x3c", "0x30", "0x3c", "0x30")]
    [InlineData("decfsz  ticks,f", "decfsz  ticks,w", "f", "w")]
    [InlineData("bcf     6,2", "bsf     6,2", "bcf", "bsf")]
    [InlineData("wait    clrwdt", "walt    clrwdt", "wait", "walt")]
    [InlineData("movwf   ticks", "movwf   ticks,f", "", ",f")]
    public void Word_that_differs_is_given_in_both_readings(string here, string there, string first, string second)
    {
        SourceDifference difference = Assert.Single(Compare(Lamp, Replaced(here, there)).Differences);
        Assert.Equal((first, second), (difference.Words, difference.OtherWords));
        Assert.Equal(difference.First, difference.Second);
        Assert.Contains(here, Lamp.Split('\n')[difference.First], StringComparison.Ordinal);
    }

    [Fact]
    public void Missing_line_does_not_shift_the_others()
    {
        SourceComparison comparison = Compare(Lamp, Replaced("        movwf   ticks\n", ""));
        SourceDifference difference = Assert.Single(comparison.Differences);
        Assert.Equal((5, -1), (difference.First, difference.Second));
        Assert.Equal(13, comparison.Agreeing);
    }

    [Fact]
    public void Line_with_several_misread_letters_is_still_the_same_line()
    {
        SourceDifference difference = Assert.Single(
            Compare(Lamp, Replaced("        movwf   ticks", "        rnovwf  tlcks")).Differences
        );
        Assert.Equal((5, 5), (difference.First, difference.Second));
        Assert.Equal(("movwf ticks", "rnovwf tlcks"), (difference.Words, difference.OtherWords));
    }

    [Fact]
    public void Reading_that_ends_early_is_reported_once()
    {
        string half = string.Join('\n', Lamp.Split('\n')[..6]);
        SourceDifference difference = Assert.Single(Compare(Lamp, half).Differences);
        Assert.True(difference.IsEnd);
        Assert.Equal((6, 13, 8), (difference.First, difference.LastLine, difference.Count));
        Assert.Equal(
            difference with
            {
                First = -1,
                Second = 6,
                PlaceInFirst = 6,
            },
            Assert.Single(Compare(half, Lamp).Differences)
        );
    }

    [Fact]
    public void Names_that_differ_by_case_alone_are_distinguished_where_the_program_does()
    {
        const string two = " list p=16f84a\nlamp equ 1\nLamp equ 2\n movlw lamp\n end\n";
        Assert.Single(Compare(two, two.Replace("movlw lamp", "movlw Lamp", StringComparison.Ordinal)).Differences);
    }

    [Fact]
    public void Lost_radix_is_one_difference_and_not_one_at_every_number()
    {
        string dec = Replaced("list    p=16f84a", "list    p=16f84a, r=dec")
            .Replace("0x3c", "60", StringComparison.Ordinal);
        Assert.Single(Compare(dec, dec.Replace(", r=dec", "", StringComparison.Ordinal)).Differences);
    }

    [Fact]
    public void Name_alone_is_a_label_in_one_column_and_a_call_in_another()
    {
        const string call = " list p=16f84a\nbeep macro\n nop\n endm\nstart nop\n beep\n goto start\n end\n";
        Assert.True(Compare(call, call).IsSame);
        Assert.False(Compare(call, call.Replace("\n beep\n", "\nbeeq\n", StringComparison.Ordinal)).IsSame);
    }

    [Fact]
    public void Merged_reading_doubts_what_differs_and_nothing_else()
    {
        string other = Replaced("0x3c", "0x30")
            .Replace("        bcf     6,2\n", "", StringComparison.Ordinal)
            .Replace("bsf     6,3", "bsf     6,3\n        nop", StringComparison.Ordinal);
        string[] merged = Merge(Lamp, other).Split('\n');
        Assert.Equal("start   movlw   0x3c        ; sixty ;? b.asm differs at line 5 [start movlw 0x30]", merged[4]);
        Assert.Equal("        bcf     6,2 ;? not in b.asm [;]", merged[10]);
        Assert.Equal("        nop ;? only in b.asm, line 12 [;]", merged[12]);
        Assert.Equal(3, merged.Count(l => l.Contains(";?", StringComparison.Ordinal)));
        Assert.Equal(Lamp, string.Join('\n', merged.Where((_, i) => i != 12).Select(DoubtMark.Remove)));
    }

    [Fact]
    public void Doubt_that_was_open_before_stays_and_says_the_new_one_too()
    {
        string doubted = Replaced("movwf   ticks", "movwf   ticks ;? was tlcks [ movwf trisb] (page 2, line 4)");
        string line = Merge(doubted, Replaced("movwf   ticks", "movwf   tracks")).Split('\n')[5];
        Assert.Equal(
            "        movwf   ticks ;? was tlcks; b.asm differs at line 6 [ movwf trisb] [ movwf tracks] (page 2, line 4)",
            line
        );
    }

    [Fact]
    public void Taking_the_other_reading_everywhere_gives_the_other_program()
    {
        foreach (string path in Programs())
        {
            string text = File.ReadAllText(path).ReplaceLineEndings("\n");
            string other = text.Replace("movlw", "addlw", StringComparison.Ordinal)
                .Replace("MOVLW", "ADDLW", StringComparison.Ordinal);
            string merged = Merge(text, other);
            string[] taken =
            [
                .. merged
                    .Split('\n')
                    .Select(l =>
                        DoubtMark.Read(l) is { Alternatives: [var reading] } ? DoubtReading.Take(l, reading) : l
                    ),
            ];
            SourceComparison comparison = Compare(string.Join('\n', taken), other);
            Assert.True(comparison.IsSame, path);
        }
    }

    [Fact]
    public void No_changed_line_of_a_program_goes_unseen()
    {
        foreach (string path in Programs())
        {
            string[] lines = File.ReadAllText(path).ReplaceLineEndings("\n").Split('\n');
            ProgramAnalysis whole = Read(string.Join('\n', lines));
            for (int i = 0; i < lines.Length; i += 3)
            {
                string code = DoubtReading.Of(lines[i]);
                int digit = code.AsSpan().LastIndexOfAnyInRange('0', '9');
                if (digit < 0 || (whole.FactsOf(whole.Root, i).Role & LineRole.AfterEnd) != 0)
                    continue;
                string changed = string.Concat(
                    code.AsSpan(0, digit),
                    code[digit] == '1' ? "0" : "1",
                    code.AsSpan(digit + 1)
                );
                SourceComparison comparison = SourceComparison.Of(
                    whole,
                    Read(string.Join('\n', [.. lines[..i], changed, .. lines[(i + 1)..]]))
                );
                Assert.Contains(comparison.Differences, d => d.First == i);
            }
        }
    }

    [Fact]
    public void Prose_is_no_reading() =>
        Assert.Equal((true, false), Compare(Lamp, "Dear reader,\nhere is my lamp.\n").HasProgram);

    [Fact]
    public void Long_readings_without_a_common_line_are_compared_in_bounded_time()
    {
        string left = string.Concat(Enumerable.Range(0, 10_000).Select(i => $" movlw {i & 255}\n")),
            right = string.Concat(Enumerable.Range(0, 10_000).Select(i => $" retlw {i & 255}\n"));
        Assert.Equal(10_000, Compare(left, right).Differences.Sum(d => d.Count));
    }

    private static string Replaced(string here, string there)
    {
        Assert.Contains(here, Lamp, StringComparison.Ordinal);
        return Lamp.Replace(here, there, StringComparison.Ordinal);
    }

    private static ProgramAnalysis Read(string text) =>
        Assembler.Assemble(new SourceFile("reading.asm", SourceText.From(text)));

    private static SourceComparison Compare(string first, string second) =>
        SourceComparison.Of(Read(first), Read(second));

    private static string Merge(string first, string second) =>
        MergedSource.Of(Compare(first, second), "a.asm", "b.asm");

    private static IEnumerable<string> Programs()
    {
        string at = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(at, "AsmLsp.sln")))
            at = Path.GetDirectoryName(at) ?? throw new InvalidOperationException("no AsmLsp.sln above the test");
        return Directory.GetFiles(Path.Combine(at, "tests", "fixtures", "programs"), "*.asm");
    }
}
