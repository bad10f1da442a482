using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Audit;

/// <summary>
/// Asks whether the rows of two text columns come in turn, one of the left and one of the right. What belongs together in a program is in
/// neighboring lines: where it is two lines apart instead, again and again, no line goes without a doubt.
/// </summary>
internal static class AlternateRows
{
    // As many pairs two lines apart show it; a few may be chance.
    private const int LeastPairs = 6;

    // A text whose lines are in order has several times as many pairs of neighbors.
    private const double MostNeighbors = 0.6;

    public static void Check(AuditSheet sheet)
    {
        var kinds = new List<string>();
        var lines = new List<int>();
        int last = -1;
        foreach (AuditRow row in sheet.Rows)
        foreach (int line in row.Lines)
        {
            if (line <= last || KindOf(sheet, line) is not { } kind)
                continue;
            last = line;
            kinds.Add(kind);
            lines.Add(line);
        }

        int near = Pairs(kinds, 1),
            apart = Pairs(kinds, 2);
        if (apart < LeastPairs || near > apart * MostNeighbors)
            return;
        foreach (int line in lines)
            if (!sheet.IsReported(line) && !LineSyntax.Of(sheet.Result.Source[line]).IsBlank)
                sheet.Mark(
                    line,
                    DocumentCodes.NotAsPrinted,
                    "are the lines in the right order?",
                    $"Lines that belong together are two lines apart: the rows of two text columns may come in turn. Compare '{sheet.Lines[line].Trim()}' and its neighbors with the page."
                );
    }

    private static int Pairs(List<string> kinds, int distance)
    {
        int pairs = 0;
        for (int i = 0; i + distance < kinds.Count; i++)
            if (BelongTogether(kinds[i], kinds[i + distance]))
                pairs++;
        return pairs;
    }

    // What comes in this order in nearly every program: common practice.
    private static bool BelongTogether(string first, string second) =>
        first switch
        {
            "movlw" => second is "movwf" or "addwf" or "subwf" or "andwf" or "iorwf" or "xorwf" or "call" or "tris",
            "movf" or "movfw" or "swapf" => second is "movwf" or "xorlw" or "andlw" or "sublw" or "addlw" or "call",
            "btfss" or "btfsc" or "decfsz" or "incfsz" => second
                is "goto"
                    or "call"
                    or "return"
                    or "incf"
                    or "decf"
                    or "bsf",
            "subwf" or "sublw" or "xorlw" or "xorwf" => second is "btfss" or "btfsc",
            "value" or "member" => second == first,
            _ => false,
        };

    private static string? KindOf(AuditSheet sheet, int line)
    {
        LineRole role = sheet.Facts(line).Role;
        if ((role & LineRole.BlockMember) != 0)
            return "member";
        LineSyntax syntax = LineSyntax.Of(sheet.Result.Source[line]);
        // A comment of its own may be the rest of the one above it.
        if (syntax.Operation is not { } operation)
            return syntax.IsBlank ? null : "label";
        return syntax.OperationKind == OperationKind.Assignment ? "value" : operation.ToLowerInvariant();
    }
}
