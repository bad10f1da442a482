using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Suspicions;

/// <summary>
/// <c>ifdef</c> with a name that nothing defines, while another one that looks like it is defined: whichever was misread decides which lines
/// the program has. A name that nothing looks like is an option that is not taken, as is common.
/// </summary>
internal static class UnknownChoice
{
    public static void Look(SuspicionSheet sheet)
    {
        for (int i = 0; i < sheet.LineCount; i++)
        {
            LineSyntax syntax = sheet.Syntax(i);
            if (syntax.Keyword is not (Keyword.IfDefined or Keyword.IfNotDefined))
                continue;
            string name = syntax.OperandText.Trim();
            if (name.Length < 3 || sheet.Program.FindSymbol(name) is not null)
                continue;
            if (name.StartsWith("__", StringComparison.Ordinal))
            {
                if (DeviceCatalog.Find(name[2..]) is null)
                    Mark(sheet, i, name);
                continue;
            }

            foreach (Symbol symbol in sheet.Program.Symbols)
            {
                if (!LooksLike(name, symbol.Name) || IsAskedFor(sheet, symbol.Name))
                    continue;
                Mark(sheet, i, name);
                if (symbol.Definition.File == sheet.Program.Root)
                    Mark(sheet, symbol.Definition.Line, symbol.Name);
            }
        }
    }

    private static void Mark(SuspicionSheet sheet, int line, string name) =>
        sheet.Mark(
            line,
            DocumentCodes.UnknownChoice,
            $"check {name}: it chooses between lines",
            $"{name} chooses which lines the program has, and it may be misread: nothing defines the one that is asked for. Compare both lines with the page."
        );

    private static bool LooksLike(string a, string b)
    {
        if (a.Equals(b, StringComparison.OrdinalIgnoreCase))
            return false;
        if (a.Length == b.Length)
            return GlyphConfusion.MayBe(a, b, static _ => true);
        (string less, string more) = a.Length < b.Length ? (a, b) : (b, a);
        return more.StartsWith(less, StringComparison.OrdinalIgnoreCase)
            || (more.Length == less.Length + 1 && WordDistance.Of(less, more) == 1);
    }

    private static bool IsAskedFor(SuspicionSheet sheet, string name)
    {
        for (int i = 0; i < sheet.LineCount; i++)
        {
            LineSyntax syntax = sheet.Syntax(i);
            if (syntax.Keyword is Keyword.Define or Keyword.Undefine)
                continue;
            for (int t = 0; t < syntax.EndOfCode; t++)
                if (
                    t != syntax.LabelToken
                    && syntax.Tokens[t].Kind == TokenKind.Name
                    && syntax.SpanOf(t).SequenceEqual(name)
                )
                    return true;
        }

        return false;
    }
}
