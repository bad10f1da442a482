using AsmLsp.Core.Recovery.Document;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>Holds that the lines of the source stand in the order of the print, and that each that makes a word was printed.</summary>
internal static class RowOrder
{
    public static void Check(AuditSheet sheet)
    {
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
