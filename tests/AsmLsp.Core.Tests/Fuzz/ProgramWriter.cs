using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Tests.Fuzz;

/// <summary>
/// Writes random programs together with the words that they must give. The words are worked out here, beside the text and
/// by nothing of the assembler: values as numbers, encodings from the instruction set summary of the mid-range data sheets.
/// </summary>
internal sealed class ProgramWriter(Random random)
{
    private static readonly (string Name, int Code)[] Literals =
    [
        ("movlw", 0x3000),
        ("retlw", 0x3400),
        ("iorlw", 0x3800),
        ("andlw", 0x3900),
        ("xorlw", 0x3A00),
        ("sublw", 0x3C00),
        ("addlw", 0x3E00),
    ];

    private static readonly (string Name, int Code)[] Bytes =
    [
        ("subwf", 0x0200),
        ("decf", 0x0300),
        ("iorwf", 0x0400),
        ("andwf", 0x0500),
        ("xorwf", 0x0600),
        ("addwf", 0x0700),
        ("movf", 0x0800),
        ("comf", 0x0900),
        ("incf", 0x0A00),
        ("decfsz", 0x0B00),
        ("rrf", 0x0C00),
        ("rlf", 0x0D00),
        ("swapf", 0x0E00),
        ("incfsz", 0x0F00),
    ];

    private static readonly (string Name, int Code)[] Bits =
    [
        ("bcf", 0x1000),
        ("bsf", 0x1400),
        ("btfsc", 0x1800),
        ("btfss", 0x1C00),
    ];

    private readonly StringBuilder text = new();
    private readonly Dictionary<int, int> words = [];
    private readonly List<(int Address, int Code, string Label)> jumps = [];
    private readonly Dictionary<string, int> labels = [];
    private readonly List<(string Name, int Value)> constants = [];
    private readonly List<(string Name, int Value)> variables = [];
    private readonly List<(string Name, int Value)> defines = [];
    private readonly List<string> functions = [];
    private readonly List<(string Name, int Register, int Bit)> pins = [];
    private readonly List<(string Name, int Kind)> macros = [];
    private int location;
    private int radix = 16;
    private int names;

    /// <summary>The program's text.</summary>
    public string Text => text.ToString();

    /// <summary>The words that it must give, by address.</summary>
    public IReadOnlyDictionary<int, int> Words => words;

    /// <summary>Writes a program of some statements.</summary>
    public ProgramWriter Write(int statements)
    {
        if (random.Next(2) == 0)
        {
            Line(" radix dec");
            radix = 10;
        }

        Line(" nop");
        Put(0);
        for (int i = 0; i < statements; i++)
            Statement();
        // Every jump has its label by now, or gets it here.
        foreach (string label in jumps.Select(j => j.Label).Distinct().Where(l => !labels.ContainsKey(l)).ToList())
        {
            labels.Add(label, location);
            Line($"{label} nop");
            Put(0);
        }

        foreach ((int address, int code, string label) in jumps)
            words[address] = code | labels[label];
        if (random.Next(3) == 0)
        {
            Line($" org {Number(0x2100)}");
            int at = 0x2100;
            (string value, int number) = Expression(2);
            Line($" de {value}&{Number(0xFF)},\"Az\"");
            words[at] = number & 0xFF;
            words[at + 1] = 'A';
            words[at + 2] = 'z';
        }

        Line(" end");
        return this;
    }

    private void Statement()
    {
        switch (random.Next(17))
        {
            case 0:
                (string value, int number) = Expression(3);
                constants.Add((Name("c"), number));
                Line($"{constants[^1].Name} equ {value}");
                break;
            case 1:
                Assign();
                break;
            case 2:
                Define();
                break;
            case 3 or 4:
                Jump();
                break;
            case 5:
                string label = Name("l");
                labels.Add(label, location);
                Line(label + (random.Next(2) == 0 ? ":" : ""));
                break;
            case 6:
                Choice();
                break;
            case 7:
                Loop();
                break;
            case 8:
                Macro();
                break;
            case 9:
                PastedNames();
                break;
            case 10:
                Data();
                break;
            case 11:
                location += random.Next(1, 9);
                Line($" org {Number(location)}");
                break;
            case 12:
                Block();
                break;
            default:
                Instruction();
                break;
        }
    }

    private void Instruction()
    {
        switch (random.Next(4))
        {
            case 0:
                (string name, int code) = Pick(Literals);
                (string value, int number) = Expression(3);
                Line($" {name} ({value})&{Number(0xFF)}{Comment()}");
                Put(code | (number & 0xFF));
                break;
            case 1:
                (name, code) = Pick(Bytes);
                (value, number) = Expression(2);
                int to = random.Next(2);
                Line(
                    $" {name} ({value})&{Number(0x7F)},{(to == 0 ? Pick(["w", "W", "0"]) : Pick(["f", "F", "1"]))}{Comment()}"
                );
                Put(code | (to << 7) | (number & 0x7F));
                break;
            case 2 when pins.Count > 0:
                (name, code) = Pick(Bits);
                (string pin, int register, int bit) = Pick(pins);
                Line($" {name} {pin}{Comment()}");
                Put(code | (bit << 7) | register);
                break;
            default:
                (name, code) = Pick(Bits);
                (value, number) = Expression(2);
                (string which, int of) = Expression(2);
                Line($" {name} ({value})&{Number(0x7F)},({which})&{Number(7)}{Comment()}");
                Put(code | ((of & 7) << 7) | (number & 0x7F));
                break;
        }
    }

    private void Assign()
    {
        (string value, int number) = Expression(2);
        if (variables.Count > 0 && random.Next(2) == 0)
        {
            int at = random.Next(variables.Count);
            string name = variables[at].Name;
            switch (random.Next(3))
            {
                case 0 when variables[at].Value < 60_000:
                    Line($"{name} += {Number(5)}");
                    variables[at] = (name, variables[at].Value + 5);
                    break;
                case 1 when variables[at].Value < 60_000:
                    Line($"{name}++");
                    variables[at] = (name, variables[at].Value + 1);
                    break;
                default:
                    Line($"{name} set {value}");
                    variables[at] = (name, number);
                    break;
            }

            return;
        }

        variables.Add((Name("v"), number));
        Line($"{variables[^1].Name} {Pick(["set", "="])} {value}");
    }

    private void Define()
    {
        switch (random.Next(3))
        {
            case 0:
                // Only what never changes: the text counts where it is put in.
                (string value, int number) = Expression(2, fixedOnly: true);
                defines.Add((Name("d"), number));
                Line($"#define {defines[^1].Name} ({value})");
                break;
            case 1:
                functions.Add(Name("f"));
                Line($"#define {functions[^1]}(a,b) (((a)*{Number(3)}+(b))&{Number(0xFF)})");
                break;
            default:
                (int register, int bit) = (random.Next(0x20, 0x70), random.Next(8));
                pins.Add((Name("p"), register, bit));
                Line($"#define {pins[^1].Name} {Number(register)},{Number(bit)}");
                break;
        }
    }

    private void Jump()
    {
        string label = labels.Count > 0 && random.Next(2) == 0 ? Pick(labels.Keys.ToList()) : Name("l");
        (string name, int code) = random.Next(2) == 0 ? ("goto", 0x2800) : ("call", 0x2000);
        if (random.Next(6) == 0)
        {
            Line($" {name} $");
            Put(code | location);
            return;
        }

        jumps.Add((location, code, label));
        Line($" {name} {label}{Comment()}");
        Put(code);
    }

    private void Choice()
    {
        (string value, int number) = Expression(2);
        string word = Pick(["if", "#if", "IF"]);
        Line($" {word} {value}");
        if (number != 0)
            Instruction();
        else
            Line(" this is (no, \"program at all");
        Line(" else");
        if (number == 0)
            Instruction();
        else
            Line(" movlw nobody+knows,this");
        Line(" endif");
    }

    private void Loop()
    {
        string counter = Name("i");
        int times = random.Next(1, 6);
        Line($"{counter} set 0");
        Line($" while {counter} < {Number(times)}");
        Line($" dw {counter}*{Number(7)}+{Number(2)}");
        Line($"{counter} set {counter}+1");
        Line(" endw");
        for (int i = 0; i < times; i++)
            Put(i * 7 + 2);
    }

    private void Macro()
    {
        if (macros.Count < 3)
        {
            string name = Name("m");
            int kind = macros.Count;
            Line($"{name} macro a,b");
            switch (kind)
            {
                case 0:
                    Line($" movlw (a)&{Number(0xFF)}");
                    Line($" addlw (b)&{Number(0x0F)}");
                    break;
                case 1:
                    Line(" local here");
                    Line("here goto here");
                    Line($" dt (a)&{Number(0xFF)},(b)&{Number(0xFF)}");
                    break;
                default:
                    Line($" if (a) > (b)");
                    Line($" movlw (a)&{Number(0xFF)}");
                    Line(" exitm");
                    Line(" endif");
                    Line($" movlw (b)&{Number(0xFF)}");
                    break;
            }

            Line(" endm");
            macros.Add((name, kind));
        }

        (string macro, int of) = Pick(macros);
        (string first, int a) = Expression(2);
        (string second, int b) = Expression(2);
        Line($" {macro} {first},{second}{Comment()}");
        switch (of)
        {
            case 0:
                Put(0x3000 | (a & 0xFF));
                Put(0x3E00 | (b & 0x0F));
                break;
            case 1:
                Put(0x2800 | location);
                Put(0x3400 | (a & 0xFF));
                Put(0x3400 | (b & 0xFF));
                break;
            default:
                Put(0x3000 | ((a > b ? a : b) & 0xFF));
                break;
        }
    }

    private void PastedNames()
    {
        string stem = Name("t");
        (string value, int number) = Expression(2);
        labels.Add($"{stem}{number}", location);
        Line($"{stem}#v({value}) nop");
        Put(0);
        Line($" goto {stem}#v({Number(number)})");
        Put(0x2800 | labels[$"{stem}{number}"]);
    }

    private void Data()
    {
        (string value, int number) = Expression(2);
        switch (random.Next(3))
        {
            case 0:
                Line($" dw ({value})&{Number(0x3FFF)},{Number(5)}");
                Put(number & 0x3FFF);
                Put(5);
                break;
            case 1:
                Line($" dt ({value})&{Number(0xFF)},\"x;y\",'z'");
                Put(0x3400 | (number & 0xFF));
                foreach (char c in "x;yz")
                    Put(0x3400 | c);
                break;
            default:
                Line($" data {value}&{Number(0xFFF)}");
                Put(number & 0xFFF);
                break;
        }
    }

    private void Block()
    {
        (string first, string second) = (Name("r"), Name("r"));
        int start = random.Next(0x20, 0x50),
            size = random.Next(1, 5);
        Line($" cblock {Number(start)}");
        Line(random.Next(2) == 0 ? $" {first}:{Number(size)},{second}" : $"{first}:{Number(size)}\n {second} ; one");
        Line(" endc");
        constants.Add((first, start));
        constants.Add((second, start + size));
    }

    private (string Text, int Value) Expression(int depth, bool fixedOnly = false)
    {
        if (depth == 0 || random.Next(4) == 0)
            return Leaf(fixedOnly);
        (string left, int a) = Expression(depth - 1, fixedOnly);
        (string right, int b) = Expression(depth - 1, fixedOnly);
        long result;
        string made;
        switch (random.Next(16))
        {
            case 0:
                (made, result) = ($"({left}+{right})", (long)a + b);
                break;
            case 1:
                (made, result) = ($"({left} - {right})", (long)a - b);
                break;
            case 2:
                (made, result) = ($"({left}*{right})", (long)a * b);
                break;
            case 3 when b != 0:
                (made, result) = ($"({left}/{right})", a / b);
                break;
            case 4 when b != 0:
                (made, result) = ($"({left} % {right})", a % b);
                break;
            case 5:
                (made, result) = ($"({left}<<({right}&{Number(7)}))", (long)a << (b & 7));
                break;
            case 6:
                (made, result) = ($"({left} >> ({right}&{Number(7)}))", a >> (b & 7));
                break;
            case 7:
                (made, result) = ($"({left}&{right})", a & b);
                break;
            case 8:
                (made, result) = ($"({left} | {right})", a | b);
                break;
            case 9:
                (made, result) = ($"({left}^{right})", a ^ b);
                break;
            case 10:
                (string sign, bool holds) = Pick([
                    ("==", a == b),
                    ("!=", a != b),
                    ("<", a < b),
                    ("<=", a <= b),
                    (">", a > b),
                    (">=", a >= b),
                ]);
                (made, result) = ($"({left}{sign}{right})", holds ? 1 : 0);
                break;
            case 11:
                (made, result) = ($"((~{left})&{Number(0xFF)})", ~a & 0xFF);
                break;
            case 12:
                (made, result) = ($"(low {left})", a & 0xFF);
                break;
            case 13:
                (made, result) = ($"(high ({left}))", (a >> 8) & 0xFF);
                break;
            case 14:
                (made, result) = ($"({left}+{Number(3)}*{right})", a + 3L * b);
                break;
            default:
                (made, result) =
                    random.Next(2) == 0
                        ? ($"({left}&&{right})", a != 0 && b != 0 ? 1 : 0)
                        : ($"(!{left})", a == 0 ? 1 : 0);
                break;
        }

        return result is >= 0 and <= 0xFFFF ? (made, (int)result) : (left, a);
    }

    private (string Text, int Value) Leaf(bool fixedOnly)
    {
        switch (random.Next(7))
        {
            case 0 when constants.Count > 0:
                return Pick(constants);
            case 1 when variables.Count > 0 && !fixedOnly:
                return Pick(variables);
            case 2 when defines.Count > 0:
                return Pick(defines);
            case 3 when functions.Count > 0:
                (string left, int a) = Expression(1, fixedOnly);
                (string right, int b) = Expression(1, fixedOnly);
                // The arguments hold no comma, and what is put in is in parentheses.
                return ($"{Pick(functions)}({left},{right})", (a * 3 + b) & 0xFF);
            default:
                int number = random.Next(3) switch
                {
                    0 => random.Next(10),
                    1 => random.Next(256),
                    _ => random.Next(0x4000),
                };
                return (Number(number), number);
        }
    }

    private string Number(int value)
    {
        string hex = value.ToString("X", CultureInfo.InvariantCulture);
        string dec = value.ToString(CultureInfo.InvariantCulture);
        switch (random.Next(9))
        {
            case 0:
                return "0x" + hex;
            case 1:
                return $"h'{hex}'";
            case 2:
                return $"0{hex}h";
            case 3:
                return $"d'{dec}'";
            case 4:
                return $"b'{Convert.ToString(value, 2)}'";
            case 5:
                return $"o'{Convert.ToString(value, 8)}'";
            case 6 when value is > 0x20 and < 0x7F && value is not ('\'' or '\\' or '"' or ';'):
                return $"'{(char)value}'";
            case 7 when radix == 10:
                return dec;
            case 7 when hex.All(char.IsAsciiDigit):
                return hex;
            default:
                return "." + dec;
        }
    }

    private string Comment() => random.Next(5) == 0 ? Pick(["\t; turn it on", " ;\"a", "  ;; (x", ""]) : "";

    private string Name(string stem) => $"{stem}_{names++}{Pick(["", "x", "Y", "_1"])}";

    private void Put(int word) => words[location++] = word;

    private void Line(string line) => text.Append(line).Append('\n');

    private T Pick<T>(IReadOnlyList<T> from) => from[random.Next(from.Count)];
}
