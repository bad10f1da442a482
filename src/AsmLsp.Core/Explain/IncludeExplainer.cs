using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Explain;

/// <summary>An include: the file found, or the built-in names that replaces a chip's header.</summary>
internal static class IncludeExplainer
{
    public static Explanation? Explain(ExplainContext context)
    {
        TextSpan span = context.Syntax.OperandSpan;
        IncludeUse? use = context.Program.Includes.FirstOrDefault(i =>
            i.Place.File == context.File && i.Place.Line == context.Line
        );
        if (use is null)
        {
            string why = context.Facts.Role.HasFlag(LineRole.Skipped)
                ? "The condition around this line leaves it out."
                : "This file is not found. Put it beside this one, or remove the line if nothing of it is used.";
            return new Explanation(why, span);
        }

        if (use.File is { } file)
        {
            var found = new MarkdownText().Paragraph(
                $"The file {MarkdownText.Code(file.ShortName)}, {file.Text.LineCount} lines, is read here."
            );
            found.Bullet($"Found as {MarkdownText.Code(file.Name)}");
            return new Explanation(found.ToString(), span);
        }

        if (use.Chip is not { } chip || DeviceCatalog.Find(chip) is not { } device)
            return new Explanation(
                $"The names of a chip that is not known here: {MarkdownText.Escape(use.Chip ?? use.Name)}.",
                span
            );
        var text = new MarkdownText().Paragraph(
            $"The built-in names of **{device.Name}**: registers, bits and configuration settings. No such file is needed."
        );
        text.Bullet($"{device.Registers.Length} registers, {device.Symbols.All.Count} names");
        if (context.Program.Device is { } other && other != device)
            text.Bullet($"Memory and configuration are those of {other.Name}, which the program names as its chip");
        ChipExplainer.Describe(device, text);
        return new Explanation(text.ToString(), span);
    }
}
