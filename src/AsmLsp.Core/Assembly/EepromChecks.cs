using AsmLsp.Core.Devices;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly;

/// <summary>Words and the EEPROM: bytes that do not reach it, and words in it that are no bytes.</summary>
internal static class EepromChecks
{
    private const int MostByte = 0xFF;

    // What an empty cell reads as: nothing is lost of it.
    private const int Erased = 0x3FFF;
    private const int LastPossible = Device.EepromAddress + ChipContext.MostEepromBytes - 1;

    /// <summary>Whether a line lists bytes for the EEPROM.</summary>
    public static bool IsByteList(in EffectiveLine line) => line.Syntax.Keyword == Keyword.DataEeprom;

    /// <summary>Reports a byte for the EEPROM that is placed outside it, and a word in it that is no byte.</summary>
    /// <returns>Whether there was something to report.</returns>
    public static bool Report(AssemblyPass pass, int address, int word, in EffectiveLine line)
    {
        bool isInside = address >= Device.EepromAddress && address <= LastPossible;
        if (IsByteList(line))
        {
            if (isInside || address > LastPossible)
                return false;
            pass.Report(
                Catalogue.EepromBytesOutside,
                line.OperationPlace,
                line.Via,
                Show.Hex(address),
                address < ChipContext.FirstIdAddress ? "program memory" : "the ID and configuration words"
            );
            return true;
        }

        if (!isInside)
            return false;
        bool isData =
            line.Syntax.Keyword is Keyword.DataWords or Keyword.DataBytes or Keyword.DataPackedText or Keyword.Fill;
        if (!isData)
            pass.Report(
                Catalogue.InstructionInEeprom,
                line.OperationPlace,
                line.Via,
                line.Syntax.Operation!,
                Show.Hex(address),
                Show.Hex(word & MostByte, 2)
            );
        else if (word is <= MostByte or Erased)
            return false;
        else
            pass.Report(
                Catalogue.EepromWordTooLarge,
                line.OperationPlace,
                line.Via,
                Show.Hex(word),
                Show.Hex(address),
                Show.Hex(word & MostByte, 2)
            );
        return true;
    }
}
