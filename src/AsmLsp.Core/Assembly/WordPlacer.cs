using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Puts words at addresses and keeps the address of the next one, section by section.</summary>
internal sealed class WordPlacer(AssemblyPass pass, ProgramImage image)
{
    /// <summary>The last address of any word in a HEX file of these chips.</summary>
    public const int LastAddress = 0xFFFF;

    private readonly List<Symbol> labels = [];
    private Section? codeSection;
    private int codeLocation;
    private bool wasMoved;
    private (SourceFile?, int, Expansion?) reported;

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

    /// <summary>The address after the last word of the program that the program itself gave its place.</summary>
    public int FirstFreeWord { get; private set; }

    /// <summary>The same for the bytes of the EEPROM.</summary>
    public int FirstFreeByte { get; private set; } = Device.EepromAddress;

    /// <summary>Continues at an address. In a program section this ends what the tool may place.</summary>
    public void MoveTo(int address)
    {
        if (Section is { IsData: false, IsPlaced: false } section)
        {
            section.Next = Location;
            Section = null;
        }

        Location = address;
        wasMoved = IsData;
        if (Section is not null)
            Section.Next = address;
    }

    /// <summary>Continues in a section, or (overlaid ones) at its start again.</summary>
    public void Enter(Section section, bool again)
    {
        if (Section is not null)
            Section.Next = Location;
        if (section.IsData && !IsData)
            (codeSection, codeLocation) = (Section, Location);
        if (again)
            section.Next = section.Start;
        Section = section;
        Location = section.Next;
        wasMoved = false;
        labels.Clear();
    }

    /// <summary>Starts another source of the program: it goes after what has been placed so far, until it says otherwise.</summary>
    public void EnterUnit(Section section)
    {
        (codeSection, codeLocation) = (null, 0);
        Enter(section, again: false);
    }

    /// <summary>Notes a label of a data section: it moves along if it turns out to be before an instruction.</summary>
    public void NoteLabel(Symbol symbol) => labels.Add(symbol);

    /// <summary>
    /// Ends a data section because program words follow in it: after an 'org' they go to its address, else the
    /// program continues where it was before the section.
    /// </summary>
    public void LeaveData()
    {
        Section!.Next = Location;
        if (wasMoved)
        {
            Section = null;
            return;
        }

        (Section, Location) = (codeSection, Math.Max(codeLocation, codeSection?.Next ?? 0));
        foreach (Symbol symbol in labels)
        {
            symbol.Kind = SymbolKind.Label;
            pass.Symbols.Assign(symbol, Location, true);
        }
    }

    /// <summary>Leaves room without placing a word.</summary>
    public void Skip(int count)
    {
        labels.Clear();
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
            // After the last address every further line would say the same.
            pass.Report(Catalogue.BadAddress, line.OperationPlace, line.Via, Show.Hex(address));
            pass.Stop();
            return;
        }

        if (Section is { Kind: SectionKind.InitializedData })
        {
            // The register gets its address; that its value is not set was reported where the section starts.
            Skip(1);
            return;
        }

        // One problem a line, however many words it makes.
        if (reported != (line.File, line.Number, line.Via) && EepromChecks.Report(pass, address, word, line))
            reported = (line.File, line.Number, line.Via);
        PlaceAt(address, word, line);
        Location = address + 1;
        if (Section is { IsPlaced: false } section)
        {
            bool isByte = EepromChecks.IsByteList(line);
            section.HasEepromBytes |= isByte;
            section.HasProgramWords |= !isByte;
        }
        else if (address < ChipContext.FirstIdAddress)
        {
            FirstFreeWord = Math.Max(FirstFreeWord, Location);
        }
        else if (address >= Device.EepromAddress)
        {
            FirstFreeByte = Math.Max(FirstFreeByte, Location);
        }

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
