using AsmLsp.Core.Layout;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Changes;

/// <summary>Layout edits: blanks only, and only where the program's words stay the same.</summary>
public static class FileLayout
{
    /// <summary>The edits that lay out a file, or some of its lines.</summary>
    /// <param name="file">The file.</param>
    /// <param name="tabSize">How wide a tab is.</param>
    /// <param name="onlyBlanks">Whether the editor puts in blanks and wants no tab left; else tabs stay where the file has them.</param>
    /// <param name="lines">The lines, or null for all.</param>
    public static IEnumerable<TextEdit> Format(ProgramFile file, int tabSize, bool onlyBlanks, LineRange? lines)
    {
        var options = new FormatOptions { TabSize = tabSize };
        if (onlyBlanks)
            options = options with { UseTabs = false };
        return Formatter.Format(file.Analysis, file.Source, options, lines);
    }

    /// <summary>The edits of every safe layout fix.</summary>
    /// <param name="file">The file.</param>
    /// <param name="tabSize">How wide a tab is.</param>
    public static IEnumerable<TextEdit> Tidy(ProgramFile file, int tabSize) =>
        TextDifference.Between(
            file.Text,
            Core.Repairs.Tidy.Run(file.Analysis, file.Source, new FormatOptions { TabSize = tabSize }).NewText
        );
}
