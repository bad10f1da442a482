using AsmLsp.Core.Hex;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Reading;

namespace AsmLsp.Ide.HexFiles;

/// <summary>What each part of a record is, by the area that its data go to.</summary>
public static class HexTokens
{
    /// <summary>The tokens of some lines, in order.</summary>
    public static IEnumerable<ClassifiedToken> Of(HexFile file, int first, int last)
    {
        ArgumentNullException.ThrowIfNull(file);
        for (int line = first; line <= last; line++)
        {
            if (file.RecordOn(line) is not { } record)
            {
                string text = file.Text[line].Text;
                if (text.TrimStart() is [';' or '#', ..])
                    yield return new(line, new TextSpan(0, text.Length), TokenClass.Comment, TokenTraits.None);
                continue;
            }

            int colon = record.Column - 1;
            yield return new(line, new TextSpan(colon, 1), TokenClass.Operator, TokenTraits.None);
            yield return new(line, new TextSpan(colon + 1, 2), TokenClass.Number, TokenTraits.None);
            yield return new(line, new TextSpan(colon + 3, 4), TokenClass.Label, TokenTraits.None);
            yield return new(line, new TextSpan(colon + 7, 2), TokenClass.Directive, TokenTraits.None);
            if (record.Length > 0)
                yield return new(line, HexFile.DataOf(record), ClassOf(record), TokenTraits.None);
            yield return new(
                line,
                new TextSpan(colon + 9 + 2 * record.Length, 2),
                record.IsSound ? TokenClass.Comment : TokenClass.Macro,
                TokenTraits.None
            );
        }
    }

    private static TokenClass ClassOf(HexRecord record) =>
        record.Type != 0
            ? TokenClass.Label
            : HexAreas.Of((int)Math.Min(record.ByteAddress / 2, 0xFFFF)) switch
            {
                HexArea.Program => TokenClass.Instruction,
                HexArea.Configuration => TokenClass.ChipName,
                HexArea.Eeprom => TokenClass.Text,
                HexArea.Identification => TokenClass.Value,
                _ => TokenClass.Macro,
            };
}
