using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// Compares the addresses that a listing prints with those that its lines are built at. Where the printed ones jump and the built ones continue,
/// words are missing in between; what follows is then looked at as far after as it was moved.
/// </summary>
internal sealed class PrintedAddresses
{
    private readonly int[] shifts;
    private readonly Dictionary<int, int> shiftOfAddress = [];

    private PrintedAddresses(int lines) => shifts = new int[lines];

    /// <summary>Where words are missing.</summary>
    public List<MissingPiece> Missing { get; } = [];

    /// <summary>By how many words a line of the listing is built too low.</summary>
    /// <param name="line">The line, by its place among those of the listing.</param>
    public int ShiftOf(int line) => shifts[line];

    /// <summary>Where the word at a printed address is built; null where the listing does not print that address.</summary>
    public int? BuiltAt(int printed) => shiftOfAddress.TryGetValue(printed, out int shift) ? printed - shift : null;

    /// <summary>Follows the addresses of a listing.</summary>
    public static PrintedAddresses Of(RecoveryResult result, List<ListingLine> lines)
    {
        var addresses = new PrintedAddresses(lines.Count);
        Dictionary<int, (int First, int Words)> built = BuiltByLine(result);
        Dictionary<PrintedPlace, int> lineOf = MissingPieces.LinesByPlace(result);
        int shift = 0,
            nextPrinted = 0,
            nextBuilt = 0;
        ListingLine? before = null;
        for (int i = 0; i < lines.Count; i++)
        {
            ListingLine line = lines[i];
            if (line.Address >= 0 && LineBuilt(line) is { } words)
            {
                int here = line.Address - words.First;
                // Both accounts have to say it: the printed addresses jump, and the built ones continue as if nothing were between.
                if (
                    here > shift
                    && words.First == nextBuilt
                    && line.Address - nextPrinted == here - shift
                    && Rises(lines, i)
                )
                {
                    addresses.Add(before, line, nextPrinted, here - shift);
                    shift = here;
                }
                else if (
                    here < shift
                    && words.First == nextBuilt
                    && line.Address - nextPrinted == here - shift
                    && GoesOn(lines, i, words.Words)
                    && before is not null
                )
                {
                    addresses.AddTwice(before, line, shift - here);
                    shift = here;
                }
                else if (
                    here > 0
                    && words.First != nextBuilt
                    && (
                        Agreeing(result, lines, i, here) > Agreeing(result, lines, i, 0) + 1
                        || StaysShifted(lines, i, words, here, LineBuilt)
                    )
                )
                {
                    // After an 'org' the built addresses start anew; here the first words say what is missing.
                    addresses.Add(before, line, words.First, here);
                    shift = here;
                }
                else if (here == 0 && words.First != nextBuilt)
                {
                    // An 'org' after the gap has put everything right again.
                    shift = 0;
                }

                // Some listings print the first word of a line alone.
                (nextPrinted, nextBuilt) = (
                    line.Address + Math.Max(words.Words, 1 + line.MoreWords.Length),
                    words.First + words.Words
                );
                before = line;
            }

            addresses.shifts[i] = shift;
            if (line.Address >= 0)
                addresses.shiftOfAddress.TryAdd(line.Address, shift);
            foreach ((int address, _) in line.MoreWords)
                addresses.shiftOfAddress.TryAdd(address, shift);
        }

        return addresses;

        (int First, int Words)? LineBuilt(ListingLine line) =>
            !line.Origin.IsNone
            && lineOf.TryGetValue(line.Origin.Places[0], out int source)
            && built.TryGetValue(source, out (int First, int Words) words)
                ? words
                : null;
    }

    // Whether all lines that are built in one run with this one are printed as far from where they are built as it is. Of a run of one
    // line only its own address says; had that been misread, a look at the page would show it.
    private static bool StaysShifted(
        List<ListingLine> lines,
        int at,
        (int First, int Words) own,
        int shift,
        Func<ListingLine, (int First, int Words)?> builtOf
    )
    {
        int next = own.First + own.Words;
        for (int i = at + 1; i < lines.Count; i++)
        {
            if (lines[i].Address < 0 || builtOf(lines[i]) is not { } built)
                continue;
            if (built.First != next)
                return true;
            if (lines[i].Address - built.First != shift)
                return false;
            next = built.First + built.Words;
        }

        return true;
    }

    // One address alone may be misread; the next one says, though rows of data may be printed by their first word.
    private static bool GoesOn(List<ListingLine> lines, int at, int built)
    {
        for (int i = at + 1; i < lines.Count; i++)
            if (lines[i].Address >= 0)
                return lines[i].Address > lines[at].Address + lines[at].MoreWords.Length
                    && lines[i].Address
                        <= lines[at].Address + Math.Max(Math.Max(4, built), 1 + lines[at].MoreWords.Length);
        return true;
    }

    // What lies after an 'org' says nothing about the address of the line in front of it, but one that was misread upwards is above the next.
    private static bool Rises(List<ListingLine> lines, int at)
    {
        for (int i = at + 1; i < lines.Count; i++)
            if (lines[i].Address >= 0)
                return lines[i].Address > lines[at].Address + lines[at].MoreWords.Length;
        return true;
    }

    private void Add(ListingLine? before, ListingLine after, int next, int words)
    {
        string count = words == 1 ? "1 word" : string.Create(CultureInfo.InvariantCulture, $"{words} words");
        string span = words == 1 ? Hex(next) : $"{Hex(next)} to {Hex(next + words - 1)}";
        string where =
            before is null || next == 0
                ? $"the first printed address is {Hex(after.Address)}{(after.Page > 0 ? $", on page {after.Page}" : "")}"
            : after.Page == 0 ? $"the printed addresses go from {Hex(next - 1)} to {Hex(after.Address)}"
            : before.Page == after.Page
                ? $"on page {after.Page} the printed addresses go from {Hex(next - 1)} to {Hex(after.Address)}"
            : $"page {before.Page} ends at address {Hex(next - 1)}, and page {after.Page} continues at {Hex(after.Address)}";
        Missing.Add(
            new MissingPiece(
                DocumentCodes.MissingLines,
                before ?? after,
                after,
                $"{count} {(words == 1 ? "is" : "are")} missing above, or an 'org'",
                $"The {count} at {span} {(words == 1 ? "is" : "are")} not built: {where}. Lines of the program, a page of it or an 'org' line are missing above this line. Find them, and put them in."
            )
        );
    }

    // How many of the next words are built as they are printed, so many words lower.
    private static int Agreeing(RecoveryResult result, List<ListingLine> lines, int from, int shift)
    {
        int agree = 0;
        for (int i = from, seen = 0; i < lines.Count && seen < 6; i++)
        {
            if (lines[i].Address < 0)
                continue;
            seen++;
            if (result.Program.Image.TryGet(lines[i].Address - shift, out ushort word, out _) && word == lines[i].Word)
                agree++;
        }

        return agree;
    }

    // The printed addresses no longer change, or go back, where the built ones continue.
    private void AddTwice(ListingLine before, ListingLine after, int words)
    {
        string count = words == 1 ? "1 word" : string.Create(CultureInfo.InvariantCulture, $"{words} words");
        Missing.Add(
            new MissingPiece(
                DocumentCodes.MissingLines,
                before,
                after,
                $"{count} too many here or above: a line twice?",
                $"The program has {count} more here than the printed addresses allow: they go from {Hex(before.Address)} to {Hex(after.Address)}. Is a line there twice? Take away what the page does not have."
            )
        );
    }

    private static Dictionary<int, (int First, int Words)> BuiltByLine(RecoveryResult result)
    {
        var built = new Dictionary<int, (int First, int Words)>();
        foreach ((int address, _, WordOrigin origin) in result.Program.Image.Words)
        {
            if (origin.Outermost.File.Name != result.Program.Root.Name)
                continue;
            int line = origin.Outermost.Line;
            built[line] = built.TryGetValue(line, out (int First, int Words) known)
                ? (known.First, known.Words + 1)
                : (address, 1);
        }

        return built;
    }

    private static string Hex(int value) => "0x" + value.ToString("X4", CultureInfo.InvariantCulture);
}
