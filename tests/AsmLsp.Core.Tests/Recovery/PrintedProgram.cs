using System.Globalization;
using CsCheck;

namespace AsmLsp.Core.Tests.Recovery;

/// <summary>Makes programs as people printed them, and does to them what printing, copying and wrapping do.</summary>
internal static class PrintedProgram
{
    private static readonly string[] Names = ["count", "delay1", "delay2", "lamp", "button", "state", "Temp", "speed"];
    private static readonly string[] Routines = ["start", "main", "wait", "flash", "read", "send", "table", "loop2"];

    private static readonly string[] Words =
    [
        "the",
        "lamp",
        "is",
        "switched",
        "on",
        "when",
        "button",
        "has",
        "been",
        "released",
        "for",
        "a",
        "second",
        "and",
        "then",
        "we",
        "wait",
        "until",
        "pulse",
        "of",
        "motor",
        "ends",
        "return",
        "to",
        "start",
        "call",
        "it",
        "again",
        "goto",
        "left",
        "end",
        "if",
        "data",
        "set",
        "space",
        "clear",
        "bit",
        "train",
        "points",
        "move",
    ];

    private static readonly Gen<string> Comment = OneOf(Words)
        .Array[1, 14]
        .Select(words => "; " + string.Join(" ", words));

    private static readonly Gen<string> Instruction = Gen.OneOf(
        Gen.Int[0, 255].Select(n => $"movlw 0x{n:X2}"),
        Gen.Int[0, 9].Select(n => $"addlw {n}"),
        OneOf(Names).Select(n => $"movwf {n}"),
        OneOf(Names).Select(n => $"decfsz {n},f"),
        OneOf(Names).Select(n => $"movf {n},w"),
        Gen.Int[0, 7].Select(n => $"bsf PORTB,{n}"),
        Gen.Int[0, 7].Select(n => $"btfss PORTA, {n}"),
        OneOf("nop", "return", "clrwdt", "clrw", "sleep"),
        OneOf(Routines).Select(r => $"goto {r}"),
        OneOf(Routines).Select(r => $"call {r}"),
        Gen.Const("goto $-1"),
        Gen.Const("bcf STATUS,RP0"),
        Gen.Const("banksel TRISB"),
        Gen.Int[1, 6]
            .Select(n =>
                "dt " + string.Join(",", Enumerable.Range(1, n).Select(i => i.ToString(CultureInfo.InvariantCulture)))
            ),
        Gen.Const("dt \"Hi; you\",0"),
        Gen.Const("flip 3")
    );

    /// <summary>One of a few values.</summary>
    public static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    /// <summary>A well-formed program, lines in columns of 8, 16 and 32.</summary>
    public static readonly Gen<string[]> Lines = Gen.Select(
            Instruction,
            Comment,
            Gen.Int[0, 9],
            (code, comment, with) => (Code: code, Comment: with < 5 ? comment : "", Alone: with == 9)
        )
        .Array[3, 12]
        .Array[Routines.Length]
        .Select(Build);

    /// <summary>What may happen to a text on its way.</summary>
    public static readonly Gen<(string Name, Func<string[], string[]> Do)> Damage = Gen.OneOf<(
        string,
        Func<string[], string[]>
    )>(
        Gen.Const<(string, Func<string[], string[]>)>(("nothing", lines => lines)),
        Gen.Const<(string, Func<string[], string[]>)>(("blanks lost", lines => [.. lines.Select(l => l.TrimStart())])),
        Gen.Int[1, 12]
            .Select<int, (string, Func<string[], string[]>)>(n =>
                ($"indented by {n}", lines => [.. lines.Select(l => l.Length == 0 ? l : new string(' ', n) + l)])
            )
    );

    /// <summary>Breaks comments that go beyond a width, as a narrow column does; the rest is at a column of its own.</summary>
    public static string[] Wrap(string[] lines, int width, int column)
    {
        var result = new List<string>();
        foreach (string line in lines)
        {
            int comment = line.StartsWith("dt \"", StringComparison.Ordinal)
                ? -1
                : line.LastIndexOf("; ", StringComparison.Ordinal);
            string rest = line;
            while (comment >= 0 && rest.Length > width)
            {
                int at = rest.LastIndexOf(' ', width);
                if (at <= (rest == line ? comment + 1 : column))
                    break;
                result.Add(rest[..at]);
                rest = new string(' ', column) + rest[(at + 1)..];
            }

            result.Add(rest);
        }

        return [.. result];
    }

    /// <summary>Puts a foot and a head between pages.</summary>
    public static string[] Paginate(string[] lines, int height, string? head)
    {
        var result = new List<string>();
        int page = 1;
        for (int i = 0; i < lines.Length; i++)
        {
            if (i > 0 && i % height == 0)
            {
                result.Add("");
                result.Add($"Page {page++}");
                if (head is not null)
                    result.Add(head);
                result.Add("");
            }

            result.Add(lines[i]);
        }

        return [.. result];
    }

    private static string[] Build((string Code, string Comment, bool Alone)[][] bodies)
    {
        var lines = new List<string>
        {
            "; A model railway signal",
            Line("", "list p=16f84a", ""),
            Line("", "include <p16f84a.inc>", ""),
            Line("", "__CONFIG _CP_OFF & _WDT_OFF & _XT_OSC", ""),
            "",
        };
        for (int i = 0; i < Names.Length; i++)
            lines.Add($"{Names[i], -8}equ     0x{0x10 + i:X2}");
        lines.Add("flip    macro bit");
        lines.Add(Line("", "bsf PORTB,bit", ""));
        lines.Add(Line("", "bcf PORTB,bit", "; flip it"));
        lines.Add(Line("", "endm", ""));
        lines.Add(Line("", "org 0", ""));
        lines.Add(Line("", "goto start", "; begin"));
        for (int r = 0; r < bodies.Length; r++)
        {
            lines.Add("");
            for (int i = 0; i < bodies[r].Length; i++)
            {
                (string code, string comment, bool alone) = bodies[r][i];
                if (i == 0 && alone)
                    lines.Add(Routines[r]);
                else if (alone)
                    lines.Add(comment.Length > 0 ? comment : ";----------");
                lines.Add(Line(i == 0 && !alone ? Routines[r] : "", code, comment));
            }
        }

        lines.Add(Line("", "end", ""));
        return [.. lines];
    }

    private static string Line(string label, string code, string comment)
    {
        string line = $"{label, -8}{code}";
        return comment.Length == 0 ? line : $"{line, -32}{comment}";
    }
}
