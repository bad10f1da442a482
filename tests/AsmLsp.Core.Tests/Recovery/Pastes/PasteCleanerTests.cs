using System.Text;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Pastes;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Tests.Recovery.Document;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery.Pastes;

/// <summary>Texts as they come out of mails, web pages, forums and terminals. A paste has the words of its program again, or nothing is changed.</summary>
public class PasteCleanerTests
{
    private const string Gate = """
        ; Gate of a mill: opens at dawn
        	list p=16f84a, r=dec
        	include <p16f84a.inc>
        	__config _XT_OSC & _WDT_OFF & _CP_OFF
        #define motor PORTB,3
        level	equ 0x0C
        	org 0
        	goto open

        table	addwf PCL,f
        	dt "mill: ",'A',0
        open:	bsf STATUS,RP0
        	bcf TRISB,3
        	bcf STATUS,RP0
        wait	movf level,w	; as high as the field
        	sublw 20
        	btfss STATUS,C
        	goto wait
        	bsf motor	; first flap, then lamp
        	movlw low(table) | b'00000001'
        	call table
        	goto wait
        	end
        """;

    private static string[] Lines => Gate.ReplaceLineEndings("\n").Split('\n');

    // What other programs make of the text that is copied out of them.
    private static readonly Dictionary<string, Func<string[], string>> Copies = new(StringComparer.Ordinal)
    {
        ["quoted mail"] = Each(static l => "> " + l),
        ["mail quoted twice, blank lines bare"] = Each(static l => l.Length == 0 ? ">>" : ">> " + l),
        ["added lines of a comparison"] = Each(static l => "+" + l),
        ["bars of a chat"] = Each(static l => "| " + l),
        ["tabs as signs, line ends as signs"] = Each(static l => l.Replace("\t", "^I", StringComparison.Ordinal) + "$"),
        ["tabs as escapes"] = Each(static l => l.Replace("\t", "\\t", StringComparison.Ordinal)),
        ["colors of a terminal"] = Each(static l =>
            l.Replace(";", "\u001B[32m;", StringComparison.Ordinal)
                .Replace("goto", "\u001B[1;34mgoto\u001B[0m", StringComparison.Ordinal)
        ),
        ["letters struck over"] = Each(static l => l.Replace("goto", "g\bgo\bot\bto\bo", StringComparison.Ordinal)),
        ["stops of a pager"] = static lines =>
            string.Join('\n', lines.SelectMany(static (l, i) => i % 9 == 8 ? [l, $"--More--({i}%)"] : (string[])[l])),
        ["names of characters"] = Each(static l =>
            l.Replace("&", "&amp;", StringComparison.Ordinal)
                .Replace("<", "&lt;", StringComparison.Ordinal)
                .Replace(">", "&gt;", StringComparison.Ordinal)
                .Replace("\"", "&quot;", StringComparison.Ordinal)
                .Replace("'", "&#39;", StringComparison.Ordinal)
        ),
        ["names of names"] = Each(static l =>
            l.Replace("&", "&amp;amp;", StringComparison.Ordinal).Replace("<", "&amp;lt;", StringComparison.Ordinal)
        ),
        ["blanks as names"] = Each(static l => l.Replace("\t", "&nbsp;&nbsp;&#xA0;&#160;", StringComparison.Ordinal)),
        ["line breaks of a page"] = Each(static l => l + "<br />"),
        ["colors of a page"] = Each(static l =>
            l.Replace("goto", "<span style=\"color:blue\">goto</span>", StringComparison.Ordinal)
                .Replace("equ", "<b>equ</b>", StringComparison.Ordinal)
        ),
        ["fence"] = static lines => $"```asm\n{string.Join('\n', lines)}\n```",
        ["frame of a forum"] = static lines => $"Quote:\nCode: [Select]\n{string.Join('\n', lines)}\n[/code]",
        ["mail as it is sent"] = Each(static l =>
            l.Replace("=", "=3D", StringComparison.Ordinal).Replace("field", "fie=\nld", StringComparison.Ordinal)
                is var sent
            && sent.Length > 60
                ? sent
                : l.Replace("=", "=3D", StringComparison.Ordinal)
        ),
        ["blanks that do not break"] = Each(static l =>
            l.Replace("\t", "        ", StringComparison.Ordinal).Replace(' ', '\u00A0')
        ),
        ["blanks of print"] = Each(static l =>
            l.Replace("\t", "    ", StringComparison.Ordinal).Replace(' ', '\u2003')
        ),
        ["joined letters"] = Each(static l =>
            l.Replace("fi", "\uFB01", StringComparison.Ordinal).Replace("fl", "\uFB02", StringComparison.Ordinal)
        ),
        ["characters without width"] = Each(static l => string.Join('\u200B', l.AsEnumerable())),
        ["marks of direction"] = Each(static l => l.Length > 0 ? $"\u200E{l}\u202C" : l),
        ["hyphens that do not show"] = Each(static l => l.Replace("goto", "go\u00ADto", StringComparison.Ordinal)),
        ["wide signs"] = Each(static l =>
            l.Replace(",", "\uFF0C", StringComparison.Ordinal).Replace("#", "\uFF03", StringComparison.Ordinal)
        ),
        ["file and line"] = Numbered(static (n, l) => $"mill2.asm:{n}:{l}"),
        ["numbers with a sharp"] = Numbered(static (n, l) => $"#{n} {l}"),
        ["numbers in brackets"] = Numbered(static (n, l) => $"[{n, 3}] {l}"),
        ["numbers with a letter"] = Numbered(static (n, l) => $"L{n}: {l}"),
        ["numbers glued on"] = Numbered(static (n, l) => $"{n}{l}"),
        ["numbers with zeros glued on"] = Numbered(static (n, l) => $"{n:000}{l}"),
        ["numbers with a bar glued on"] = Numbered(static (n, l) => $"{n}|{l}"),
        ["numbers in brackets, in a message"] = static lines =>
            "Joined: 3 May 2006\nPosts: 17\n\n" + Numbered(static (n, l) => $"[{n}] {l}")(lines),
        ["each fifth line numbered, no room"] = Numbered(
            static (n, l) => n % 5 == 0 ? $"{n} {l.TrimStart()}" : l.TrimStart()
        ),
        ["captions"] = static lines =>
            string.Join(
                '\n',
                lines.SelectMany(
                    static (l, i) =>
                        i is 8 ? ["Listing 2 (continued)", l]
                        : i is 12 ? ["Fig. 3: Gate", l]
                        : (string[])[l]
                )
            ),
        ["head of a mail"] = static lines =>
            "From: Ann <ann@example.org>\nDate: Mon, 3 May 2004 10:22\nSubject: Re: gate\n\n"
            + string.Join('\n', lines),
        ["read after Windows-1252"] = static lines =>
            string.Concat(
                Encoding
                    .UTF8.GetBytes(
                        string.Join('\n', lines)
                            .Replace("'", "\u2019", StringComparison.Ordinal)
                            .Replace("gate", "g\u00E4te", StringComparison.Ordinal)
                    )
                    .Select(static b => TextEncoding.Decode([b]).Text)
            ),
        ["blanks as question marks"] = Each(static l => l.Replace("\t", "????", StringComparison.Ordinal)),
        ["comments of another language"] = Each(static l => l.Replace(";", "//", StringComparison.Ordinal)),
        ["comments with a Greek question mark"] = Each(static l => l.Replace(';', '\u037E')),
        ["numbers at the ends"] = Numbered(static (n, l) => $"{l, -60} {n}"),
        ["numbers on lines of their own"] = Numbered(static (n, l) => $"{n}\n{l}"),
    };

    public static TheoryData<string> Names => [.. Copies.Keys];

    public static TheoryData<string> Programs => [.. FixturePrograms.Names];

    private static Func<string[], string> Each(Func<string, string> change) =>
        lines => string.Join('\n', lines.Select(change));

    private static Func<string[], string> Numbered(Func<int, string, string> change) =>
        lines => string.Join('\n', lines.Select((l, i) => change(i + 1, l)));

    [Theory]
    [MemberData(nameof(Names))]
    public void Copy_gives_the_words_of_the_program_and_no_doubt(string name)
    {
        RecoveryResult result = PasteRecovery.Run(SourceText.From(Copies[name](Lines)));
        Assert.Equal(PrintedPages.Words(PasteRecovery.Run(SourceText.From(Gate))), PrintedPages.Words(result));
        Assert.True(result.IsClean, string.Join('\n', result.Entries) + "\n" + result.Source);
        Assert.Contains(result.Entries, static e => e.Code == DocumentCodes.CopyMarks);
    }

    [Fact]
    public void Places_of_lines_are_those_of_the_paste()
    {
        RecoveryResult result = PasteRecovery.Run(SourceText.From(Copies["quoted mail"](Lines)));
        int line = Enumerable
            .Range(0, result.Source.LineCount)
            .Single(i => result.Source[i].Text.Contains("sublw", StringComparison.Ordinal));
        Assert.Equal(
            Array.FindIndex(Lines, static l => l.Contains("sublw", StringComparison.Ordinal)) + 1,
            Assert.Single(result.Origins[line].Places).Line
        );
    }

    [Theory]
    [InlineData(
        "T1: retlw 1\nT2: retlw 2\nT3: retlw 3\nT4: retlw 4\nT5: retlw 5\nT6: retlw 6\nT7: retlw 7\nT8: retlw 8\nT9: retlw 9"
    )]
    [InlineData("R0 equ 1\nR1 equ 2\nR2 equ 3\nR3 equ 4\nR4 equ 5\nR5 equ 6\nR6 equ 7\nR7 equ 8\nR8 equ 9\nR9 equ 10")]
    [InlineData("up equ 16\nnow=20\nlater=3D\n nop\n nop\n nop\n movlw now\n movlw later\n end")]
    [InlineData("Table 4 nop\n retlw 1\n call Table\n nop\n end")]
    [InlineData(" nop ; \u00C4\u0081 one\n nop\n end")]
    [InlineData("lt equ 4\n movlw 3&lt;first\n movlw 1&lt\n nop\n end")]
    [InlineData(" movlw a<b\n movlw (a<i)+(u>b)\n movlw '|'\n dt \"\\t\",0\n dt \"a\u00A0b\"\n end")]
    [InlineData(
        "#define a 1\n#define b 2\n#define c 3\n#define d 4\n#define e 5\n#define f 6\n#define g 7\n#define h 8"
    )]
    public void Text_that_has_no_such_marks_stays_as_it_is(string text)
    {
        SourceText source = SourceText.From(text);
        (SourceText cleaned, _) = PasteCleaner.Clean(source);
        Assert.Same(source, cleaned);
    }

    [Fact]
    public void Letters_that_a_wrong_encoding_parted_are_left_to_the_step_that_joins_them()
    {
        const string text = " nop ; qui va \u00C3\u00A0 la mer, \u00C3\u00ADndice\n end";
        Assert.Equal(text, PasteCleaner.Clean(SourceText.From(text)).Text.ToString());
    }

    [Theory]
    [MemberData(nameof(Programs))]
    public void Program_that_was_never_copied_stays_as_it_is(string name)
    {
        SourceText source = FixturePrograms.Read(Path.Combine(FixturePrograms.Folder, name + ".asm")).Text;
        Assert.Same(source, PasteCleaner.Clean(source).Text);
    }

    [Fact]
    public void Text_of_a_piece_that_lost_its_blanks_is_doubted_though_the_rest_kept_them()
    {
        string[] lines = Lines;
        for (int i = 8; i < lines.Length; i++)
            lines[i] = lines[i].Replace('\t', ' ').Trim();
        RecoveryResult result = PasteRecovery.Run(SourceText.From(string.Join('\n', lines)));
        Assert.Contains(result.Entries, static e => e.Code == DocumentCodes.BlanksInText);
    }

    [Theory]
    [InlineData(15, 16)]
    [InlineData(18, 18)]
    public void Lines_whose_numbers_are_in_another_order_or_twice_are_doubted(int first, int second)
    {
        List<string> lines =
        [
            .. Lines.Select(static (l, i) => $"{i + 1, 3} {l.Replace("\t", "    ", StringComparison.Ordinal)}"),
        ];
        if (first == second)
            lines.Insert(first, lines[first]);
        else
            (lines[first], lines[second]) = (lines[second], lines[first]);
        RecoveryResult result = PasteRecovery.Run(SourceText.From(string.Join('\n', lines)));
        Assert.Contains(result.Entries, static e => e.Severity == Severity.Warning);
    }

    [Fact]
    public void Names_of_the_program_are_no_sign_of_OCR()
    {
        string text = string.Join('\n', Lines)
            .Replace("#define motor", "#define lidh PORTB,5\no\tequ 0\n#define motor", StringComparison.Ordinal)
            .Replace(
                "\tgoto wait",
                "\tbsf lidh\n\tbcf lidh\n\tbsf STATUS,o\n\tbcf STATUS,o\n\tgoto wait",
                StringComparison.Ordinal
            )
            .Replace("lidh", "ledh", StringComparison.Ordinal);
        Assert.True(PasteRecovery.Run(SourceText.From(text)).IsClean);
    }

    [Fact]
    public void What_is_left_out_is_quoted()
    {
        RecoveryResult result = PasteRecovery.Run(SourceText.From(Copies["fence"](Lines)));
        RecoveryEntry entry = Assert.Single(result.Entries, static e => e.Code == DocumentCodes.CopyMarks);
        Assert.Equal(Severity.Information, entry.Severity);
        Assert.Contains("'```asm'", entry.Message, StringComparison.Ordinal);
    }
}
