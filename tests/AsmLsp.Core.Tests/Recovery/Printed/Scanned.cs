using System.Collections.Immutable;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Listings.Rows;
using AsmLsp.Core.Recovery.Results;

namespace AsmLsp.Core.Tests.Recovery.Printed;

/// <summary>Makes what a text recognition would give of a page in a monospaced font: 10 points high, 6 wide, lines 12 apart.</summary>
internal static class Scanned
{
    public const double Pitch = 6,
        Leading = 12,
        Left = 60,
        Top = 100;

    /// <summary>A page whose characters were all read, each as sure as reported.</summary>
    public static OcrPage Page(string text, double confidence = 0.995, double slope = 0) =>
        new(
            1,
            595,
            842,
            [
                .. text.Split('\n')
                    .Select((line, i) => Row(line, i, confidence, slope))
                    .Where(static r => !r.Characters.IsEmpty),
            ],
            []
        );

    public static OcrRow Row(string line, int number, double confidence = 0.995, double slope = 0)
    {
        ImmutableArray<OcrCharacter>.Builder characters = ImmutableArray.CreateBuilder<OcrCharacter>();
        double baseLine = Top + number * Leading;
        for (int i = 0; i < line.Length; i++)
        {
            if (line[i] == ' ')
                continue;
            double middle = Left + (i + 0.5) * Pitch,
                fall = slope * middle;
            characters.Add(
                new OcrCharacter(
                    line[i].ToString(),
                    i == 0 || line[i - 1] == ' ',
                    middle - 2,
                    baseLine + fall - 6,
                    middle + 2,
                    baseLine + fall,
                    confidence
                )
            );
        }

        return new OcrRow(characters.ToImmutable(), baseLine, slope);
    }

    public static PrintedDocument Document(OcrPage page) => new(OcrLines.Of([page]));

    public static RecoveryResult Recover(OcrPage page) => DocumentRecovery.Run(Document(page));

    public static RecoveryResult Recover(string text, double confidence = 0.995) => Recover(Page(text, confidence));

    /// <summary>The page with one character read less surely.</summary>
    public static OcrPage Unsure(this OcrPage page, int row, int character, double confidence) =>
        page with
        {
            Rows = page.Rows.SetItem(
                row,
                page.Rows[row] with
                {
                    Characters = page.Rows[row]
                        .Characters.SetItem(
                            character,
                            page.Rows[row].Characters[character] with
                            {
                                Confidence = confidence,
                            }
                        ),
                }
            ),
        };

    /// <summary>The words of the doubt on the line that has a text in it, or null.</summary>
    public static string? DoubtOn(this RecoveryResult result, string part)
    {
        string line = Assert.Single(
            result.Source.Lines.Select(static l => l.Text),
            t => DoubtMark.Remove(t).Contains(part, StringComparison.Ordinal)
        );
        return DoubtMark.Read(line)?.Words;
    }
}
