using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;

namespace AsmLsp.Rendering;

/// <summary>Every word of a program with its address and the line that made it, as text.</summary>
internal static class WordListText
{
    public static string Of(ProgramAnalysis program, Func<string, string> shown)
    {
        var text = new StringBuilder();
        text.AppendLine("address word  place                     source");
        foreach ((int address, ushort word, WordOrigin origin) in program.Image.Words)
        {
            string place = string.Create(CultureInfo.InvariantCulture, $"{shown(origin.File.Name)}:{origin.Line + 1}");
            text.AppendLine(
                CultureInfo.InvariantCulture,
                $"0x{address:X4}  {word:X4}  {place, -24}  {origin.File.Text[origin.Line].Text.Trim()}"
            );
        }

        text.AppendLine().AppendLine("name                      value   kind");
        foreach (Symbol symbol in program.Symbols)
        {
            if (symbol.IsKnown)
                text.AppendLine(
                    CultureInfo.InvariantCulture,
                    $"{symbol.Name, -24}  0x{symbol.Value:X4}  {symbol.Kind}"
                );
        }

        return text.ToString();
    }
}
