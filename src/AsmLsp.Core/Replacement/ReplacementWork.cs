using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Replacement;

/// <summary>The steps that put a program onto another chip; each changes the draft and says so.</summary>
internal sealed partial class ReplacementWork
{
    private readonly ProgramAnalysis before;
    private readonly FlowGraph flow;
    private readonly Device from;
    private readonly Device to;
    private readonly RegisterMap map;
    private ProgramAnalysis after;

    public ReplacementWork(ProgramAnalysis program, Device from, Device to)
    {
        before = after = program;
        (this.from, this.to) = (from, to);
        flow = FlowGraph.Of(program);
        map = RegisterMap.Of(program, from, to);
        Draft = new ReplacementDraft(program.Root);
    }

    public ReplacementDraft Draft { get; }

    public List<ReplacementFinding> Findings { get; } = [];

    public void Add(FindingKind kind, string area, int? line, string text)
    {
        var finding = new ReplacementFinding(kind, area, line, text);
        if (!Findings.Contains(finding))
            Findings.Add(finding);
    }

    /// <summary>Marks an old line, and says why.</summary>
    private void Doubt(string area, int oldLine, string text)
    {
        if (oldLine < 0)
        {
            Add(FindingKind.Doubt, area, null, text + " The line is in an included file.");
            return;
        }

        Draft.Doubt(Draft.Find(oldLine), text);
        Add(FindingKind.Doubt, area, oldLine, text);
    }

    /// <summary>Writes the name of the new chip wherever the old one is named.</summary>
    public void NameTheChip()
    {
        for (int line = 0; line < Draft.Count; line++)
        {
            LineSyntax syntax = before.SyntaxOf(before.Root, line);
            if (syntax.Keyword is not (Keyword.List or Keyword.Processor or Keyword.Include))
            {
                if (
                    syntax.Keyword == Keyword.MemoryMap
                    && before.FactsOf(before.Root, line).Role is var role
                    && (role & LineRole.Skipped) == 0
                )
                {
                    Draft.Replace(line, ";" + Draft[line]);
                    Add(FindingKind.Changed, "memory", line, $"A map of the memory of {from.Name} is now a comment.");
                }

                continue;
            }

            if (
                syntax.Keyword == Keyword.Include
                && before.Includes.Any(i => i.Place.File == before.Root && i.Place.Line == line && i.File is not null)
            )
                continue;
            if (Renamed(Draft[line]) is not { } renamed)
                continue;
            Draft.Replace(line, renamed);
            Add(FindingKind.Changed, "chip", line, $"Names {to.Name} in place of {from.Name}.");
        }

        Assemble();
        if (after.Device == to)
            return;
        string name = to.Name.Replace("PIC", "", StringComparison.Ordinal).ToLowerInvariant();
        Draft.InsertBefore(0, [Draft.Statement("list", "p=" + name)]);
        Add(FindingKind.Changed, "chip", 0, $"Names {to.Name}: the source did not name its chip.");
        Assemble();
        if (after.Device != to)
            Add(
                FindingKind.Impossible,
                "chip",
                null,
                "The chip is named outside this source (relist.json or an option): change it there too."
            );
    }

    /// <summary>Writes a configuration that makes the new chip behave as the old one did.</summary>
    public void Configure()
    {
        SourcePlace[] places = [.. before.ConfigurationPlaces.Where(p => p.File == before.Root)];
        if (!before.Image.TryGet(from.ConfigurationWords[0].Address, out _, out _))
        {
            Add(
                FindingKind.Doubt,
                "configuration",
                null,
                $"The source sets no configuration. Set one for {to.Name}: an erased chip may start otherwise."
            );
            return;
        }

        if (places.Length == 0)
        {
            Add(
                FindingKind.Doubt,
                "configuration",
                null,
                "The configuration is set in an included file, or by a word placed by 'org': change it by hand."
            );
            return;
        }

        System.Collections.Immutable.ImmutableArray<NewConfiguration> words = NewConfiguration.Of(
            from,
            before.Image.Memory,
            to
        );
        int first = places[0].Line;
        string indent = Draft[Draft.Find(first)][
            ..before.SyntaxOf(before.Root, first).Tokens[before.SyntaxOf(before.Root, first).OperationToken].End
        ];
        string comment = before.SyntaxOf(before.Root, first).Comment is { } said ? "   " + said : "";
        string[] lines =
        [
            .. words.Select(
                (w, i) =>
                    $"{indent} {(words.Length == 1 ? "" : FormattableString.Invariant($"0x{w.Word.Address:X4}, "))}{w.Text}{(i == 0 ? comment : "")}"
            ),
        ];
        int at = Draft.Find(first);
        if (Draft[at] != lines[0])
        {
            Draft.Replace(at, lines[0]);
            Add(FindingKind.Changed, "configuration", first, $"The configuration is written for {to.Name}.");
        }

        if (lines.Length > 1)
            Draft.InsertBefore(at + 1, lines[1..]);
        foreach (SourcePlace other in places.Skip(1))
        {
            int line = Draft.Find(other.Line);
            Draft.Replace(line, ";" + Draft[line]);
            Add(
                FindingKind.Changed,
                "configuration",
                other.Line,
                "This part of the configuration is in the line above now."
            );
        }

        foreach (NewConfiguration word in words)
        {
            foreach (string note in word.Notes)
                Add(FindingKind.Note, "configuration", first, note + ".");
            foreach (string doubt in word.Doubts)
                Doubt("configuration", first, doubt);
        }

        Assemble();
    }

    /// <summary>Frees pins that something else owns after the reset of the new chip, and did not own on the old one.</summary>
    public void FreePins()
    {
        var code = new List<string>();
        var whats = new List<string>();
        foreach (NotDigitalAtReset owner in to.NotDigitalAtReset)
        {
            if (from.NotDigitalAtReset.Any(o => o.Code.SequenceEqual(owner.Code)))
                continue;
            code.AddRange(owner.Code);
            whats.Add($"{owner.What} ({string.Join(" ", owner.Pins)})");
        }

        if (code.Count == 0)
            return;
        int at = from.ResetVector;
        for (
            int i = 0;
            i < 16
                && flow.InstructionAt(at) is { Instruction.IsJump: true }
                && flow.Walk.TargetOf(at) is var target and >= 0
                && target != at;
            i++
        )
            at = target;
        string what = string.Join("; ", whats);
        if (
            !before.Image.TryGet(at, out _, out WordOrigin origin)
            || origin.Outermost.File != before.Root
            || after.NamesDevice != to
        )
        {
            Add(
                FindingKind.Doubt,
                "analog",
                null,
                $"After the reset of {to.Name}: {what}. Put these lines at the start: {string.Join(" / ", code.Select(Bare))}"
            );
            return;
        }

        int old = origin.Outermost.Line,
            line = Draft.Find(old);
        LineSyntax syntax = before.SyntaxOf(before.Root, old);
        var lines = code.Select(c => Draft.Indented(c)).ToList();
        lines[0] += lines[0].Contains(';', StringComparison.Ordinal) ? "" : $"    ; pins digital, as on {from.Name}";
        if (syntax.LabelToken >= 0 && syntax.OperationToken >= 0)
        {
            int operation = syntax.Tokens[syntax.OperationToken].Start;
            lines.Insert(0, Draft[line][..operation].TrimEnd());
            Draft.Replace(line, Draft.Indented(Draft[line][operation..]));
        }

        Draft.InsertBefore(line, lines);
        Add(
            FindingKind.Changed,
            "analog",
            old,
            $"After the reset of {to.Name}: {what}. Lines at the start free the pins."
        );
        Assemble();
    }

    private static string Bare(string code) => code.Split(';')[0].Trim();

    private void Assemble() =>
        after = before.With(new Dictionary<SourceFile, SourceFile> { [before.Root] = Draft.ToFile() });

    // The old chip's name in a line, as '16F84' inside 'p=16f84' or '<p16f84.inc>'.
    private string? Renamed(string line)
    {
        string was = from.Name.Replace("PIC", "", StringComparison.Ordinal),
            now = to.Name.Replace("PIC", "", StringComparison.Ordinal);
        int end = line.IndexOf(';', StringComparison.Ordinal);
        for (int at = 0; (at = line.IndexOf(was, at, StringComparison.OrdinalIgnoreCase)) >= 0; at++)
        {
            if (end >= 0 && at > end)
                return null;
            int after = at + was.Length;
            if (after < line.Length && char.IsAsciiLetterOrDigit(line[after]))
                continue;
            bool isLower = line.AsSpan(at, was.Length).ContainsAnyInRange('a', 'z');
            return string.Concat(line.AsSpan(0, at), isLower ? now.ToLowerInvariant() : now, line.AsSpan(after));
        }

        return null;
    }
}
