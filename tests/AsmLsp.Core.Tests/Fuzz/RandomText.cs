using System.Text;

namespace AsmLsp.Core.Tests.Fuzz;

/// <summary>Texts that are nearly programs: every part of the language, put together at random, with the odd things that files hold.</summary>
internal static class RandomText
{
    private static readonly string[] Operations =
    [
        "movlw",
        "movwf",
        "goto",
        "call",
        "bsf",
        "btfss",
        "nop",
        "return",
        "clrf",
        "incf",
        "equ",
        "set",
        "=",
        "org",
        "dw",
        "dt",
        "de",
        "macro",
        "endm",
        "if",
        "else",
        "endif",
        "while",
        "endw",
        "cblock",
        "endc",
        "#define",
        "#undefine",
        "include",
        "list",
        "radix",
        "end",
        "local",
        "exitm",
        "title",
        "page",
        "res",
        "fill",
        "__config",
        "banksel",
        "tris",
        "code",
        "udata",
        "data",
        "b",
        "bz",
        "skpz",
    ];

    private static readonly string[] Names =
    [
        "loop",
        "main",
        "x",
        "y",
        "count",
        "temp",
        "wait",
        "m",
        "PORTB",
        "STATUS",
        "w",
        "f",
        "Page",
        "The",
        "quick",
        "title",
        "of",
        "a",
        "B",
        "c0unt",
        "LED",
        "über",
        "x1",
        "_a",
        "?b",
        "a.b",
    ];

    private static readonly string[] Values =
    [
        "1",
        "0",
        "5",
        "0x1F",
        "1Fh",
        "h'1F'",
        "d'10'",
        ".10",
        "b'101'",
        "'A'",
        "\"AB\"",
        "FF",
        "0FF",
        "$",
        "$+1",
        "x+1",
        "(1+2)*3",
        "low x",
        "#v(1)",
        "l",
        "O5",
        "1O",
        "99999999999",
        "''",
        "\"",
        "'",
        "‘a’",
        "“b”",
        "–1",
    ];

    private static readonly string[] Oddities =
    [
        "\t",
        " ",
        "  ",
        "        ",
        "\t\t",
        " \t",
        ",",
        ";",
        ":",
        "(",
        ")",
        "\f",
        "\u00A0",
        "\v",
        "é",
        "Ã¼",
        "…",
        "—",
        "\u001a",
        "@",
        "%",
        "\u200b",
        "\ufeff",
        "𝄞",
        "/",
        "*",
        "|",
        "-----",
        "=====",
        "****",
    ];

    private static readonly string[] Words =
    [
        "the",
        "a",
        "of",
        "turn",
        "on",
        "lamp",
        "and",
        "register",
        "is",
        "to",
        "wait",
        "(see",
        "page)",
        "2.",
        "x=1",
        "movlw",
        "5",
        "if",
        "return",
    ];

    /// <summary>A text, the same for the same seed.</summary>
    public static string Of(int seed)
    {
        var random = new Random(seed);
        var text = new StringBuilder();
        if (random.Next(2) == 0)
            text.Append("\tlist p=16f84a\n#include <p16f84a.inc>\n");
        int lines = random.Next(1, 40);
        string ending = Pick(random, ["\r\n", "\r", "\n", "\n"]);
        for (int i = 0; i < lines; i++)
            text.Append(Line(random)).Append(random.Next(30) == 0 ? "\r\n" : ending);
        if (random.Next(2) == 0)
            text.Append("\tend").Append(ending);
        return text.ToString();
    }

    private static string Line(Random random)
    {
        var line = new StringBuilder();
        switch (random.Next(14))
        {
            case 0:
                return "";
            case 1:
                return Gap(random) + ";" + Gap(random) + Sentence(random);
            case 2:
                return (random.Next(2) == 0 ? "" : Gap(random)) + Sentence(random);
            case 3:
                for (int i = random.Next(1, 9); i > 0; i--)
                    line.Append(
                        Pick(
                            random,
                            random.Next(3) == 0 ? Oddities
                                : random.Next(2) == 0 ? Names
                                : Values
                        )
                    );
                return line.ToString();
            case 4:
                return "Page " + random.Next(1, 9);
            case 5:
                line.Append(Pick(random, Names)).Append(random.Next(3) == 0 ? ":" : "").Append(Gap(random));
                break;
        }

        if (random.Next(3) == 0)
            line.Append(Pick(random, Names)).Append(random.Next(5) == 0 ? ":" : "");
        line.Append(Gap(random)).Append(Pick(random, random.Next(12) == 0 ? Names : Operations));
        int operands = random.Next(4);
        if (operands > 0)
            line.Append(Gap(random));
        for (int i = 0; i < operands; i++)
        {
            if (i > 0)
                line.Append(random.Next(6) == 0 ? " ," : ",");
            line.Append(random.Next(5) == 0 ? Gap(random) : "")
                .Append(Pick(random, random.Next(2) == 0 ? Names : Values));
            if (random.Next(12) == 0)
                line.Append(Pick(random, Oddities));
        }

        if (random.Next(3) == 0)
            line.Append(Gap(random)).Append(';').Append(random.Next(6) == 0 ? "? was c1rf" : Sentence(random));
        if (random.Next(8) == 0)
            line.Append(Gap(random));
        return line.ToString();
    }

    private static string Sentence(Random random)
    {
        var sentence = new StringBuilder();
        for (int i = random.Next(0, 7); i > 0; i--)
            sentence
                .Append(Pick(random, random.Next(3) == 0 ? Names : Words))
                .Append(random.Next(8) == 0 ? Pick(random, Oddities) : " ");
        return sentence.ToString();
    }

    private static string Gap(Random random) =>
        random.Next(4) switch
        {
            0 => "\t",
            1 => " ",
            2 => new string(' ', random.Next(1, 12)),
            _ => Pick(random, ["", "", "\t\t", " \t "]),
        };

    private static string Pick(Random random, string[] from) => from[random.Next(from.Length)];
}
