using AsmLsp.Core.Devices;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>What the rows of a listing define and use, by their words alone: enough to see which parts of a document belong together.</summary>
internal sealed class ListingNames
{
    // Where no chip is named, the names that most chips have.
    private static readonly string[] UsualChips = ["16F84A", "16F877A", "16F628A"];

    private readonly HashSet<string> used = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> defined = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> labels = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> included = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Reads the rows of a listing, numbers in front of them taken off.</summary>
    public ListingNames(IReadOnlyList<string> texts)
    {
        bool inBlock = false;
        foreach (string text in texts)
        {
            string plain = AssemblyLook.Plain(text);
            int comment = plain.IndexOf(';', StringComparison.Ordinal);
            string code = (comment < 0 ? plain : plain[..comment]).Trim();
            if (code.Length == 0)
                continue;
            LineSyntax line = LineSyntax.Parse(code);
            HasEnd = AssemblyLook.IsEnd(code);
            HasHead |= AssemblyLook.IsHead(code);
            if (line.Keyword == Keyword.VariableBlock)
                inBlock = true;
            else if (line.Keyword == Keyword.EndVariableBlock)
                inBlock = false;
            else if (inBlock)
            {
                foreach (string member in code.Split(',', StringSplitOptions.TrimEntries))
                    defined.Add(member.Split(':')[0]);
                continue;
            }

            Read(line);
        }
    }

    /// <summary>Whether the last row of code is <c>end</c>.</summary>
    public bool HasEnd { get; }

    /// <summary>Whether a row names the chip, the configuration or the first address.</summary>
    public bool HasHead { get; }

    /// <summary>The names of included files that are no chip's, without folders.</summary>
    public IReadOnlySet<string> Included => included;

    /// <summary>Whether the listing defines a name.</summary>
    public bool Defines(string name) => defined.Contains(name) || labels.Contains(name);

    /// <summary>Whether the listing has a label of that name.</summary>
    public bool HasLabel(string name) => labels.Contains(name);

    /// <summary>Whether two listings define a name both.</summary>
    public bool Overlaps(ListingNames other) => defined.Overlaps(other.defined) || labels.Overlaps(other.labels);

    /// <summary>The names that are used and neither defined here nor known to the chip; all chips' names are known where it is not named.</summary>
    /// <param name="chip">The chip's name, or null.</param>
    public List<string> Lacking(string? chip)
    {
        Device[] devices = [.. (chip is null ? UsualChips : [chip]).Select(DeviceCatalog.Find).OfType<Device>()];
        return
        [
            .. used.Where(n =>
                !Defines(n) && !Array.Exists(devices, d => d.Symbols.FindAnyCase(n) is not null) && !IsNumber(n)
            ),
        ];
    }

    private void Read(LineSyntax line)
    {
        bool isKnown = line.OperationToken >= 0 && line.OperationKind != OperationKind.Unknown;
        if (line.Label is { } label)
        {
            if (line.OperationKind == OperationKind.Assignment || line.Keyword == Keyword.Macro)
                defined.Add(label);
            else if (isKnown || line.OperationToken < 0)
                labels.Add(label);
        }

        if (!isKnown)
            return;
        string operands = line.OperandText;
        switch (line.Keyword)
        {
            case Keyword.Macro:
                AddNames(defined, operands);
                return;
            case Keyword.Local or Keyword.Variable or Keyword.Constant or Keyword.Extern:
                AddNames(defined, operands);
                return;
            case Keyword.Define:
                string[] words = operands.Split((char[])[' ', '\t'], 2, StringSplitOptions.RemoveEmptyEntries);
                if (words.Length > 0)
                    defined.Add(words[0].Split('(')[0]);
                if (words.Length > 1)
                    AddNames(used, words[1]);
                return;
            case Keyword.Include:
                string file = FileNames.LastPart(operands);
                if (file.Length > 0 && !DeviceCatalog.IsHeaderName(file, out _))
                    included.Add(file);
                return;
        }

        if (
            line.OperationKind != OperationKind.Instruction
            && (
                line.Has(WordTraits.TakesText | WordTraits.FreeOperands | WordTraits.Head)
                || !line.Has(WordTraits.TakesValues)
            )
        )
            return;
        // Of an instruction with words after its operands nobody knows which of them are names.
        if (CodeShape.IsCode(line))
            AddNames(used, operands);
    }

    private static void AddNames(HashSet<string> names, string text)
    {
        foreach (SyntaxToken token in Lexer.Lex(text))
        {
            if (token.Kind != TokenKind.Name)
                continue;
            string name = text.Substring(token.Start, token.Length);
            if (
                name[0] != '_'
                && name.ToUpperInvariant() is not ("W" or "F" or "HIGH" or "LOW" or "UPPER" or "DEFINED")
            )
                names.Add(name);
        }
    }

    private static bool IsNumber(string name)
    {
        ReadOnlySpan<char> digits = name.AsSpan().TrimEnd("hH");
        foreach (char c in digits)
            if (!char.IsAsciiHexDigit(c))
                return false;
        return digits.Length is > 0 and <= 4;
    }
}
