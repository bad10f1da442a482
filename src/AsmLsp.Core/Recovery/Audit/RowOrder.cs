using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>Holds that the lines of the source are in the order of the print, and that each that makes a word was printed.</summary>
internal static class RowOrder
{
    // Code after the end builds nothing: the end may be a word of a comment.
    private static void CheckEnd(AuditSheet sheet)
    {
        var sight = new CodeSight(sheet.Names);
        int end = -1;
        for (int i = 0; i < sheet.Lines.Length; i++)
        {
            if ((sheet.Facts(i).Role & LineRole.AfterEnd) == 0)
            {
                if (LineSyntax.Of(sheet.Result.Source[i]).Keyword == Keyword.End)
                    end = i;
                continue;
            }

            string text = sheet.Lines[i];
            if (end < 0 || sheet.IsReported(end) || sheet.IsReported(i))
                return;
            if (sight.Anywhere(text, 0, AuditRow.CommentStart(text)) != Sight.Code)
                continue;
            sheet.Mark(
                end,
                DocumentCodes.NotAsPrinted,
                "does the program end here?",
                $"Lines after this one build nothing, from '{AuditSheet.Short(text)}' on. Compare the end of the program with the page."
            );
            return;
        }
    }

    public static void Check(AuditSheet sheet)
    {
        CheckEnd(sheet);
        int last = -1;
        for (int i = 0; i < sheet.Lines.Length; i++)
        {
            int row = -1;
            foreach (AuditRow printed in sheet.RowsOf(i))
            {
                row = printed.Index;
                break;
            }

            if (row < 0)
            {
                if (sheet.Facts(i).Words > 0 && !sheet.IsReported(i))
                    sheet.Mark(
                        i,
                        DocumentCodes.NotAsPrinted,
                        "this line is not printed",
                        $"No printed row has this line: '{sheet.Lines[i].Trim()}'. Compare the place with the page."
                    );
                continue;
            }

            if (row < last && !sheet.IsReported(i) && !LineSyntax.Of(sheet.Result.Source[i]).IsBlank)
                sheet.Mark(
                    i,
                    DocumentCodes.NotAsPrinted,
                    "the page has this line further up",
                    $"The page has this line further up: '{sheet.Lines[i].Trim()}'. Compare the order of the lines with the page."
                );
            last = Math.Max(last, row);
        }
    }
}
