using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Puts words at addresses and keeps the address of the next one, section by section.</summary>
internal sealed class WordPlacer(AssemblyPass pass, ProgramImage image)
{
    /// <summary>The last address of any word in a HEX file of these chips.</summary>
    public const int LastAddress = 0xFFFF;

    public ProgramImage Image { get; } = image;

    /// <summary>The address of the next word, or of the next register in a data section.</summary>
    public int Location { get; private set; }

    /// <summary>The section that is filled, or null before the first one.</summary>
    public Section? Section { get; private set; }

    /// <summary>Whether registers are given addresses here instead of words.</summary>
    public bool IsData => Section is { IsData: true };

    /// <summary>Address of the first word that the line at hand placed, or -1.</summary>
    public int FirstOfLine { get; private set; } = -1;

    /// <summary>How many words the line at hand placed.</summary>
    public int WordsOfLine { get; private set; }

    public void BeginLine()
    {
        FirstOfLine = -1;
        WordsOfLine = 0;
    }

    public void MoveTo(int address)
    {
        Location = address;
        if (Section is not null)
            Section.Next = address;
    }

    /// <summary>Goes on in a section, or (overlaid ones) at its start again.</summary>
    public void Enter(Section section, bool again)
    {
        if (Section is not null)
            Section.Next = Location;
        if (again)
            section.Next = section.Start;
        Section = section;
        Location = section.Next;
    }

    /// <summary>Leaves room without placing a word.</summary>
    public void Skip(int count)
    {
        Location = Math.Min(Location + count, LastAddress + 1);
        if (Section is not null)
            Section.Grow(Location);
    }

    /// <summary>Places one word of up to 14 bits (the caller has cut it) and moves on.</summary>
    public void Place(int word, in EffectiveLine line)
    {
        int address = Location;
        if (address is < 0 or > LastAddress)
        {
            // Behind the last address every further line would say the same.
            pass.Report(Catalogue.BadAddress, line.OperationPlace, line.Via, Show.Hex(address));
            pass.Stop();
            return;
        }

        if (IsData)
        {
            pass.Report(
                Catalogue.BadDirective,
                line.OperationPlace,
                line.Via,
                $"{line.Syntax.Operation} makes a word of the program, but this is a section for data. Start a program section with 'code'."
            );
            return;
        }

        PlaceAt(address, word, line);
        Location = address + 1;
        Section?.Grow(Location);
    }

    /// <summary>Places a word at an address of its own (configuration, ID), without moving on.</summary>
    public void PlaceAt(int address, int word, in EffectiveLine line)
    {
        if (Image.TryGet(address, out ushort earlier, out WordOrigin origin))
        {
            if (earlier != word)
            {
                pass.Report(
                    Catalogue.WordPlacedTwice,
                    line.OperationPlace,
                    line.Via,
                    [Show.Hex(address), Show.Hex(earlier), $"line {origin.Outermost.Line + 1}", Show.Hex(word)],
                    new RelatedPlace(
                        new SourcePlace(origin.File, origin.Line, default),
                        "the word that is already there"
                    )
                );
            }

            return;
        }

        PutAt(address, word, line);
    }

    /// <summary>Places a word at an address and replaces what is there: the caller has reported it.</summary>
    public void PutAt(int address, int word, in EffectiveLine line)
    {
        if (FirstOfLine < 0)
            FirstOfLine = address;
        WordsOfLine++;
        Image.Place(address, word, new WordOrigin(line.File, line.Number, line.Via));
    }
}
