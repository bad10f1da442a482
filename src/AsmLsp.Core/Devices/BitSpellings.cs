using System.Collections.Immutable;

namespace AsmLsp.Core.Devices;

/// <summary>
/// How programs spell a bit of the data sheet. NOT_ with TO, PD, RBPU, GPPU, RAPU and POR, and RBPU, GO, GO_DONE were met in
/// public user programs; both names of the Timer0 bits are in data sheets (DS35007B, DS30325B); the others are from memory.
/// </summary>
internal static class BitSpellings
{
    // The spelling in the data sheet of one chip is what programs for another one call the same bit, so a group
    // gives every member all the names; the data sheet's own name stays first.
    private static readonly Dictionary<string, string[]> Groups = Make(
        ["T0IE", "TMR0IE"],
        ["T0IF", "TMR0IF"],
        ["INTE", "INT0IE"],
        ["INTF", "INT0IF"],
        ["ADEN", "ADDEN"],
        ["CCP1X", "DC1B1"],
        ["CCP1Y", "DC1B0"],
        ["CCP2X", "DC2B1"],
        ["CCP2Y", "DC2B0"],
        ["CVREN", "VREN"],
        ["CVRR", "VRR"],
        ["CVR3", "VR3"],
        ["CVR2", "VR2"],
        ["CVR1", "VR1"],
        ["CVR0", "VR0"],
        ["SBOREN", "SBODEN"],
        ["TMR1GE", "T1GE"]
    );

    private static readonly Dictionary<string, string[]> Special = new(StringComparer.Ordinal)
    {
        ["GO/DONE"] = ["GO", "GO_DONE", "NOT_DONE", "GO_NOT_DONE"],
        ["D/A"] = ["D_A", "NOT_A", "NOT_ADDRESS", "DATA_ADDRESS", "I2C_DATA"],
        ["R/W"] = ["R_W", "NOT_W", "NOT_WRITE", "READ_WRITE", "I2C_READ"],
        ["/RBPU"] = ["NOT_RBPU", "RBPU"],
        ["/BOR"] = ["NOT_BOR", "NOT_BOD", "NOT_BO"],
        ["/BOD"] = ["NOT_BOD", "NOT_BOR", "NOT_BO"],
        ["/BO"] = ["NOT_BO", "NOT_BOR", "NOT_BOD"],
        ["/T1SYNC"] = ["NOT_T1SYNC", "T1INSYNC"],
    };

    internal static ImmutableArray<string> Of(BitField bit)
    {
        string name = bit.Name;
        if (Special.TryGetValue(name, out string[]? special))
            return [.. special];
        // 'ENC/DEC' is two names for the two states of one bit.
        int slash = name.IndexOf('/', 1);
        if (slash > 0)
            return [name[..slash], name.Replace('/', '_')];
        if (name[0] == '/')
            return ["NOT_" + name[1..]];
        if (Groups.TryGetValue(name, out string[]? group))
            return [.. group];

        // Port bits are printed as GPIO0 and PORTA0 in some data sheets; programs say GP0, RA0 as well.
        return bit.Register.Name switch
        {
            "GPIO" when name.StartsWith("GPIO", StringComparison.Ordinal) => ["GP" + name[4..], name],
            "GPIO" => [name, "GPIO" + name[2..]],
            "TRIS" => [name, "TRISIO" + name[4..]],
            // The analog select bits carry the names of the inputs in some programs: ANS0, AN0 (public user programs).
            _ when name.StartsWith("ANS", StringComparison.Ordinal)
                    && name.AsSpan(3).IndexOfAnyExceptInRange('0', '9') < 0 => [name, "AN" + name[3..]],
            _ when name.StartsWith("PORT", StringComparison.Ordinal) => ["R" + name[4..], name],
            _ => [name],
        };
    }

    private static Dictionary<string, string[]> Make(params string[][] groups)
    {
        var made = new Dictionary<string, string[]>(StringComparer.Ordinal);
        foreach (string[] group in groups)
        {
            foreach (string name in group)
                made[name] = [name, .. group.Where(other => other != name)];
        }

        return made;
    }
}
