using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Tests.Fixes;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Recovery;

public class FlatLabelTests
{
    private const string Flat = """
          list p=16f84a
          org 0
          goto first
          first clrf 6
          movlw 1
          movwf 6
          goto first
          spare
          clrf 6
          goto first
          end
        """;

    [Fact]
    public void Name_that_nobody_uses_in_a_text_without_columns_is_a_label()
    {
        RecoveryResult result = TextRecovery.Run(SourceText.From(Indented(Flat)));
        // CLRF, MOVLW, MOVWF, GOTO (DS35007B, table 7-2).
        Assert.Equal("0:2801 1:0186 2:3001 3:0086 4:2801 5:0186 6:2801", FixCheck.Words(result.Program));
        Assert.Contains("\nspare", result.Source.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain(result.Entries, e => e.Severity != Severity.Information);
    }

    [Fact]
    public void Name_in_the_column_of_instructions_stays_an_error_where_labels_have_their_own()
    {
        const string source =
            "first\n        clrf 6\n        movlw 1\n        movwf 6\n        clrf 6\n        spare\n        goto first\n        end";
        Assert.Contains(
            TextRecovery.Run(SourceText.From(source)).Entries,
            e => e.Code == Catalogue.UnknownOperation.Code && e.Severity == Severity.Error
        );
    }

    private static string Indented(string text) =>
        string.Join('\n', text.Split('\n').Select(static l => "  " + l.TrimStart()));
}
