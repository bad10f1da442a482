using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// The lines of a source that the words printed beside it confirm: a line whose words are all printed so, and a line
/// that gives a name its value, when the lines that use the name are.
/// </summary>
internal static class ConfirmedLines
{
    /// <summary>The lines, from 0.</summary>
    public static HashSet<int> Of(RecoveryResult result, List<ListingLine> lines)
    {
        Dictionary<PrintedPlace, int> lineOf = MissingPieces.LinesByPlace(result);
        var printed = new Dictionary<int, List<int>>();
        foreach (ListingLine line in lines)
        {
            if (
                (!line.HasWord && line.MoreWords.IsEmpty)
                || line.Origin.IsNone
                || !lineOf.TryGetValue(line.Origin.Places[0], out int at)
            )
                continue;
            if (!printed.TryGetValue(at, out List<int>? words))
                printed.Add(at, words = []);
            if (line.HasWord)
                words.Add(line.Word);
            foreach ((_, int more) in line.MoreWords)
                words.Add(more);
        }

        var confirmed = new HashSet<int>();
        if (printed.Count == 0)
            return confirmed;
        var refuted = new HashSet<int>();
        var seen = new Dictionary<int, int>();
        foreach ((_, ushort word, WordOrigin origin) in result.Program.Image.Words)
        {
            bool agrees = false;
            if (
                origin.Outermost.File == result.Program.Root
                && printed.TryGetValue(origin.Outermost.Line, out List<int>? words)
            )
            {
                int index = seen.GetValueOrDefault(origin.Outermost.Line);
                seen[origin.Outermost.Line] = index + 1;
                agrees = index < words.Count && words[index] == word;
            }

            if (origin.Outermost.File == result.Program.Root)
                (agrees ? confirmed : refuted).Add(origin.Outermost.Line);
            if (origin.File == result.Program.Root)
                (agrees ? confirmed : refuted).Add(origin.Line);
        }

        foreach ((int at, List<int> words) in printed)
            if (seen.GetValueOrDefault(at) != words.Count)
                refuted.Add(at);
        confirmed.ExceptWith(refuted);
        AddDefinitions(result, confirmed);
        return confirmed;
    }

    // A name's value goes into the words of the lines that use it; an address is confirmed by the next word.
    private static void AddDefinitions(RecoveryResult result, HashSet<int> confirmed)
    {
        var definitions = new Dictionary<string, List<int>>(StringComparer.Ordinal);
        int block = -1;
        for (int i = 0; i < result.Source.LineCount; i++)
        {
            LineSyntax syntax = LineSyntax.Of(result.Source[i]);
            if (syntax.Keyword == Keyword.VariableBlock)
                block = i;
            if (syntax.Keyword == Keyword.Org && NextWord(result, i) is { } next && confirmed.Contains(next))
                confirmed.Add(i);
            bool member = block >= 0 && block != i && syntax.Keyword != Keyword.EndVariableBlock;
            if (syntax.Keyword == Keyword.EndVariableBlock)
                block = -1;
            if (result.Program.FactsOf(result.Program.Root, i).Words > 0)
                continue;
            for (int t = 0; t < syntax.EndOfCode; t++)
            {
                if (syntax.Tokens[t].Kind != TokenKind.Name || (!member && t != syntax.LabelToken))
                    continue;
                if (!definitions.TryGetValue(syntax.TextOf(t), out List<int>? at))
                    definitions.Add(syntax.TextOf(t), at = []);
                at.Add(i);
                // The start of a block shows in all of its members.
                if (member)
                    at.Add(block);
            }
        }

        var used = new Dictionary<int, bool>();
        for (int i = 0; i < result.Source.LineCount; i++)
        {
            if (result.Program.FactsOf(result.Program.Root, i).Words == 0)
                continue;
            LineSyntax syntax = LineSyntax.Of(result.Source[i]);
            for (int t = Math.Max(0, syntax.FirstOperandToken); t < syntax.EndOfCode; t++)
            {
                if (
                    syntax.Tokens[t].Kind != TokenKind.Name
                    || !definitions.TryGetValue(syntax.TextOf(t), out List<int>? at)
                )
                    continue;
                foreach (int line in at)
                    used[line] = used.GetValueOrDefault(line, true) && confirmed.Contains(i);
            }
        }

        foreach ((int line, bool all) in used)
            if (all)
                confirmed.Add(line);
    }

    private static int? NextWord(RecoveryResult result, int line)
    {
        for (int i = line + 1; i < result.Source.LineCount; i++)
        {
            if (result.Program.FactsOf(result.Program.Root, i).Words > 0)
                return i;
            if (LineSyntax.Of(result.Source[i]).Keyword == Keyword.Org)
                return null;
        }

        return null;
    }
}
