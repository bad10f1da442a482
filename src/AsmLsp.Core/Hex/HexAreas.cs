namespace AsmLsp.Core.Hex;

/// <summary>What lies at an address of a HEX file for a mid-range chip.</summary>
public enum HexArea
{
    /// <summary>The program.</summary>
    Program,

    /// <summary>The words for a number of one's own.</summary>
    Identification,

    /// <summary>Configuration words.</summary>
    Configuration,

    /// <summary>Bytes of the EEPROM.</summary>
    Eeprom,

    /// <summary>Nothing that a HEX file should hold.</summary>
    Other,
}

/// <summary>
/// Where things are by word address; the byte address in the file is twice as high. Sources: data sheet DS35007B for
/// ID and configuration words; EEPROM at 0x2100 as in published programs.
/// </summary>
public static class HexAreas
{
    /// <summary>The first of the four ID words.</summary>
    public const int Identification = 0x2000;

    /// <summary>The device ID word, which the factory sets.</summary>
    public const int DeviceIdentity = 0x2006;

    /// <summary>The first configuration word.</summary>
    public const int Configuration = 0x2007;

    /// <summary>The second configuration word, on chips that have one.</summary>
    public const int SecondConfiguration = 0x2008;

    /// <summary>The first EEPROM byte.</summary>
    public const int Eeprom = 0x2100;

    /// <summary>The address after the last EEPROM byte that a chip of the family can have.</summary>
    public const int EepromEnd = 0x2200;

    /// <summary>The area of a word address.</summary>
    public static HexArea Of(int address) =>
        address switch
        {
            < Identification => HexArea.Program,
            <= Identification + 3 => HexArea.Identification,
            Configuration or SecondConfiguration => HexArea.Configuration,
            >= Eeprom and < EepromEnd => HexArea.Eeprom,
            _ => HexArea.Other,
        };
}
