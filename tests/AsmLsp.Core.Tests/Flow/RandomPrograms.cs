using System.Text;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Random programs with everything that makes paths hard to follow: banks, pages, tables, interrupts, recursion.</summary>
internal static class RandomPrograms
{
    /// <summary>A program that assembles.</summary>
    public static string One(Random random)
    {
        bool hasPages = random.Next(3) == 0;
        int interrupt = random.Next(4);
        var text = new StringBuilder($" list p={(hasPages ? "16f877a" : "16f628")}\n");
        text.Append(" org 0\n clrf 0x0A\n goto r0\n org 4\n");
        if (interrupt > 0)
            Interrupt(text, random, interrupt);
        int routines = random.Next(1, 5);
        bool isRecursive = random.Next(6) == 0;
        for (int r = 0; r <= routines; r++)
        {
            if (hasPages && r > 0 && random.Next(2) == 0)
                text.Append($" org 0x{r * 0x800 % 0x2000 + r * 0x40:X}\n");
            text.Append($"r{r}\n");
            if (r == 0 && interrupt > 0)
                text.Append(" bsf 0x0B,7\n");
            int lines = random.Next(3, 14);
            for (int i = 0; i < lines; i++)
            {
                string line = Line(random, r, routines, lines, isRecursive);
                bool isFar = line.StartsWith("call", StringComparison.Ordinal) && hasPages && random.Next(8) > 0;
                text.Append(isFar ? $"l{r}_{i} pagesel {line[5..]}\n {line}\n pagesel r{r}\n" : $"l{r}_{i} {line}\n");
            }

            if (hasPages)
                text.Append($" pagesel l{r}_0\n");
            Table(text, random, r);
            text.Append(r == 0 ? " pagesel r0\n goto r0\n" : " return\n");
        }

        return text.Append(" end\n").ToString();
    }

    private static void Interrupt(StringBuilder text, Random random, int kind)
    {
        bool saves = kind > 1;
        if (saves)
            text.Append(" movwf 0x70\n swapf 3,w\n movwf 0x71\n movf 0x0A,w\n movwf 0x72\n clrf 0x0A\n");
        text.Append(
            (random.Next(5)) switch
            {
                0 => " bsf 3,5\n bcf 0x8C,0\n bcf 3,5\n",
                1 => " clrf 3\n movlw 5\n",
                2 => " bcf 3,5\n btfsc 6,0\n bsf 3,6\n",
                3 => " incf 0x20,f\n",
                _ => " movlw 0x20\n movwf 4\n",
            }
        );
        if (saves)
            text.Append(" movf 0x72,w\n movwf 0x0A\n swapf 0x71,w\n movwf 3\n swapf 0x70,f\n swapf 0x70,w\n");
        text.Append(" retfie\n");
    }

    private static void Table(StringBuilder text, Random random, int r)
    {
        switch (random.Next(9))
        {
            case 0:
            case 1:
                text.Append(" movf 0x20,w\n andlw 3\n addwf 2,f\n retlw 1\n goto l").Append(r).Append("_0\n");
                text.Append($" retlw 3\n goto l{r}_1\n");
                break;
            case 2:
                text.Append($" movlw high t{r}\n movwf 0x0A\n movf 0x20,w\n andlw 3\n addlw low t{r}\n");
                text.Append($" btfsc 3,0\n incf 0x0A,f\n movwf 2\nt{r} goto l{r}_0\n goto l{r}_1\n goto l{r}_2\n");
                break;
            case 3:
                text.Append($" movlw high (t{r})\n movwf 0x0A\n movlw low (t{r})\n movwf 2\n nop\nt{r} nop\n");
                break;
            case 4 when random.Next(3) == 0:
                text.Append(" movf 0x21,w\n movwf 2\n");
                break;
        }
    }

    private static string Line(Random random, int routine, int routines, int lines, bool isRecursive) =>
        random.Next(30) switch
        {
            0 or 1 => "bsf 3,5",
            2 or 3 => "bcf 3,5",
            4 => "bsf 3,6",
            5 => random.Next(2) == 0 ? "bcf 3,6" : $"bsf 3,{random.Next(8)}",
            6 => $"bsf 0x0A,{random.Next(3)}",
            7 => random.Next(2) == 0 ? "bcf 0x0A,2" : "movf 0x0A,w",
            8 => $"movlw 0x{random.Next(256):X2}",
            9 => random.Next(3) == 0 ? "movwf 3" : "movwf 0x20",
            10 => random.Next(2) == 0 ? "movf 3,w" : "swapf 3,w",
            11 => $"{(random.Next(2) == 0 ? "andlw" : "iorlw")} 0x{random.Next(256):X2}",
            12 => random.Next(2) == 0 ? $"xorlw 0x{random.Next(256):X2}" : $"sublw 0x{random.Next(256):X2}",
            13 => random.Next(3) switch
            {
                0 => "clrf 3",
                1 => "iorwf 3,f",
                _ => "comf 3,w",
            },
            14 or 15 or 16 when routine < routines => $"call r{random.Next(routine + 1, routines + 1)}",
            14 when isRecursive => $"call r{random.Next(1, routines + 1)}",
            17 => $"btfsc 6,{random.Next(8)}",
            18 => "btfss 3,5",
            19 => "decfsz 0x21,f",
            20 => $"goto l{routine}_{random.Next(lines)}",
            21 => random.Next(3) == 0 ? "return" : "nop",
            22 => random.Next(2) == 0 ? "movwf 4" : "incf 4,f",
            23 => random.Next(2) == 0 ? "movwf 0" : "movf 0,w",
            24 => random.Next(3) == 0 ? "bcf 0x0B,7" : "bsf 0x0B,7",
            25 => random.Next(2) == 0 ? "rlf 0x20,w" : "addwf 0x20,w",
            26 => random.Next(2) == 0 ? "rrf 4,f" : "swapf 0x0A,w",
            27 => random.Next(4) == 0 ? "retlw 7" : "addlw 9",
            28 => random.Next(2) == 0 ? "subwf 4,w" : "bcf 4,7",
            _ => "nop",
        };
}
