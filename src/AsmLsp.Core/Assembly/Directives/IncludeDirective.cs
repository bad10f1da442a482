using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly.Directives;

/// <summary><c>include</c>: another file, or the built-in names of a chip.</summary>
internal sealed class IncludeDirective : Directive
{
    public override IReadOnlyList<string> Words { get; } = ["include", "#include"];

    public override string Usage => "#include <p16f84a.inc>";

    public override string Summary =>
        "Reads another file in this place. The name of a chip header brings the chip's built-in names; no such file is needed.";

    public override bool KeepsOperands => true;

    public override void Execute(AssemblyPass pass, in EffectiveLine line)
    {
        string name = FileName(line);
        if (name.Length == 0)
        {
            pass.Report(
                Catalogue.MissingOperand,
                line.OperationPlace,
                line.Via,
                line.Syntax.Operation!,
                "a file name",
                Usage
            );
            return;
        }

        ReportLeftover(pass, line);
        SourcePlace place = line.Place(line.Syntax.OperandSpan);
        if (pass.FindInclude(name, line.File) is { } file)
        {
            Read(pass, line, name, file, place);
            return;
        }

        if (pass.IsUnreadable(name, line.File))
        {
            pass.NoteIncludeMissing($"{name}, which cannot be read");
            pass.Report(
                Catalogue.BadDirective,
                place,
                line.Via,
                $"{name} is there, but it cannot be read as a text. Replace it by a source file, or give it another name."
            );
            return;
        }

        if (DeviceCatalog.IsHeaderName(name, out string chip))
        {
            Device? device = DeviceCatalog.Find(chip);
            pass.Includes.Add(new IncludeUse(place, name, null, chip));
            pass.Chip.IncludeNames(device, chip, place, line.Via);
            return;
        }

        IReadOnlyList<string> elsewhere = pass.IncludeCandidates(name, line.File);
        if (elsewhere.Count == 1 && pass.FindInclude(elsewhere[0], line.File) is { } found)
        {
            pass.Report(Catalogue.IncludeElsewhere, place, line.Via, name, elsewhere[0]);
            Read(pass, line, name, found, place);
            return;
        }

        pass.NoteIncludeMissing($"{name}, which is missing");
        if (elsewhere.Count > 1)
            pass.Report(
                Catalogue.IncludeAmbiguous,
                place,
                line.Via,
                [name, string.Join(", ", elsewhere), .. elsewhere]
            );
        else
            pass.Report(Catalogue.IncludeMissing, place, line.Via, name);
    }

    private static void Read(AssemblyPass pass, in EffectiveLine line, string name, SourceFile file, SourcePlace place)
    {
        pass.Includes.Add(new IncludeUse(place, name, file, null));
        if (DeviceCatalog.IsHeaderName(name, out string own) && DeviceCatalog.Find(own) is { } meant)
            pass.Chip.NoteHeader(meant, place, line.Via);
        pass.Include(file, place, line.Via);
    }

    private static void ReportLeftover(AssemblyPass pass, in EffectiveLine line)
    {
        string text = line.Syntax.OperandText;
        if (text.Length < 2 || text[0] is not ('"' or '<' or '\''))
            return;
        int close = text.IndexOf(text[0] == '<' ? '>' : text[0], 1);
        if (close < 0 || text.AsSpan(close + 1).Trim().IsEmpty)
            return;
        var rest = Text.TextSpan.FromBounds(line.Syntax.OperandSpan.Start + close + 1, line.Syntax.OperandSpan.End);
        pass.Report(Catalogue.TextAfterOperands, line.Place(rest), line.Via, text[(close + 1)..].Trim());
    }

    /// <summary>The file name as written: quoted, in angle brackets, bare, or glued to the word.</summary>
    public static string FileName(in EffectiveLine line)
    {
        string text = line.Syntax.OperandText;
        if (text.Length > 1 && text[0] is '"' or '<' or '\'')
        {
            int close = text.IndexOf(text[0] == '<' ? '>' : text[0], 1);
            return (close > 0 ? text[1..close] : text[1..]).Trim();
        }

        return text.Trim('"', '<', '>', ' ');
    }
}
