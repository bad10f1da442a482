using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Listings.Gutter;

/// <summary>
/// Lines that would make a word in a listing that prints the words, have none printed beside them, and for which the printed addresses leave no
/// room: they are no code, but the rest of the comment above or page header or footer, whatever they read as.
/// </summary>
internal static class WordlessLines
{
    private const int LeastWords = 4;

    // Where more lines than one in so many have no word, the listing does not print those of all lines.
    private const int FewLines = 3;

    // What lies from here on is no instruction (DS30292C, figure 4-1): many a listing prints no word beside it.
    private const int ConfigurationStart = 0x2000;

    /// <summary>The lines with those put after the comment mark, and the lines that they went to.</summary>
    /// <param name="lines">The lines of the listing.</param>
    /// <param name="options">How the program is to be assembled.</param>
    /// <param name="proved">Takes the rows that are proved to be no lines of the program.</param>
    public static (List<ListingLine> Lines, List<ListingLine> Joined) Join(
        List<ListingLine> lines,
        RecoveryOptions options,
        HashSet<PrintedPlace> proved
    )
    {
        var joined = new List<ListingLine>();
        if (lines.Count(static l => l.HasWord) < LeastWords || !lines.Exists(MayMakeWord))
            return (lines, joined);
        int[] made = WordsMade(lines, options, out bool[] agrees);
        int wordless = 0,
            all = 0;
        for (int i = 0; i < lines.Count; i++)
        {
            if (made[i] == 0)
                continue;
            all++;
            if (!HasWords(lines[i]))
                wordless++;
        }

        if (wordless == 0 || wordless * FewLines > all)
            return (lines, joined);
        HashSet<int> none = WithoutRoom(lines, made, agrees);
        if (none.Count == 0)
            return (lines, joined);
        var result = new List<ListingLine>(lines.Count);
        int last = -1;
        for (int i = 0; i < lines.Count; i++)
        {
            if (!none.Contains(i))
            {
                result.Add(lines[i]);
                if (lines[i] is { Printed: not null, IsProse: false })
                    last = result.Count - 1;
                continue;
            }

            proved.Add(lines[i].Origin.Places[0]);
            string rest = lines[i].Text.Trim();
            if (last >= 0 && LineSyntax.Parse(AssemblyLook.Plain(result[last].Text)).CommentToken >= 0)
            {
                result[last] = result[last] with
                {
                    Text = result[last].Text.TrimEnd() + " " + rest,
                    Rests = result[last].Rests.With(lines[i].Origin),
                };
                joined.Add(result[last]);
            }
            else
            {
                result.Add(lines[i] with { Text = "; " + rest });
                joined.Add(result[^1]);
                last = result.Count - 1;
            }
        }

        return (result, joined);
    }

    private static bool HasWords(ListingLine line) => line.HasWord || !line.MoreWords.IsEmpty;

    private static bool MayMakeWord(ListingLine line)
    {
        if (HasWords(line) || line.Printed is null || line.IsProse || line.Text.Length == 0)
            return false;
        LineSyntax syntax = LineSyntax.Parse(AssemblyLook.Plain(line.Text));
        return syntax.OperationToken >= 0
            && (syntax.OperationKind == OperationKind.Instruction || syntax.Has(WordTraits.MakesWords));
    }

    // How many words each line makes as it is, and whether they are the printed ones. Where lines too many are above, labels lie too high.
    private static int[] WordsMade(List<ListingLine> lines, RecoveryOptions options, out bool[] agrees)
    {
        var file = new SourceFile(
            options.Name,
            SourceText.From(string.Join('\n', lines.Select(static l => AssemblyLook.Plain(l.Text))))
        );
        ProgramAnalysis program = Assembler.Assemble(file, options.Includes, options.Assembly);
        int[] made = new int[lines.Count];
        for (int i = 0; i < made.Length; i++)
        {
            LineFacts facts = program.FactsOf(file, i);
            if ((facts.Role & (LineRole.Body | LineRole.Skipped)) == 0 && facts.Address < ConfigurationStart)
                made[i] = facts.Words;
        }

        agrees = new bool[lines.Count];
        foreach ((int at, List<int> words) in RowProof.Collect(program))
            agrees[at] =
                at < lines.Count
                && lines[at].HasWord
                && (
                    words[0] == lines[at].Word
                    || (words[0] is >= 0x2000 and < 0x3000 && (words[0] & 0x3800) == (lines[at].Word & 0x3800))
                );
        return made;
    }

    // Between two lines with addresses that continue, nothing has room; where some have, all of them may be what was left unprinted.
    private static HashSet<int> WithoutRoom(List<ListingLine> lines, int[] made, bool[] agrees)
    {
        var none = new HashSet<int>();
        var between = new List<int>();
        int next = -1;
        bool isRight = false;
        for (int i = 0; i < lines.Count; i++)
        {
            ListingLine line = lines[i];
            if (line.Address < 0)
            {
                if (made[i] > 0 && !HasWords(line) && line.Printed is not null && !line.IsProse && !line.IsRow)
                    between.Add(i);
                continue;
            }

            // A listing that prints words beside other lines than those that give them says nothing here.
            if (next >= 0 && line.Address == next && isRight && agrees[i])
                none.UnionWith(between);
            between.Clear();
            isRight = agrees[i];
            next = line.Address + 1 + line.MoreWords.Count(static w => w.Address >= 0);
        }

        return none;
    }
}
