using AsmLsp.Core.Devices;

namespace AsmLsp.Core.Bench;

/// <summary>Whether pins that something else owns after reset were made digital, by the lines of the chip's facts that do it.</summary>
internal static class DigitalPins
{
    /// <summary>Whether every register that those lines write has the value that they give it.</summary>
    public static bool AreFreed(Device device, NotDigitalAtReset owner, Func<Register, int> valueOf)
    {
        int literal = -1,
            checks = 0;
        foreach (string line in owner.Code)
        {
            string[] words = line.Split([' ', '\t', ',', ';'], StringSplitOptions.RemoveEmptyEntries);
            if (words.Length < 2)
                continue;
            switch (words[0])
            {
                case "movlw":
                    literal = Number(words[1]);
                    break;
                case "movwf" or "clrf" when device.FindRegister(words[1]) is { } register:
                    checks++;
                    if (valueOf(register) != (words[0] == "clrf" ? 0 : literal & register.PresentMask))
                        return false;
                    break;
            }
        }

        return checks > 0;
    }

    private static int Number(string text) =>
        text.StartsWith("0x", StringComparison.OrdinalIgnoreCase) ? Convert.ToInt32(text, 16)
        : int.TryParse(text, out int value) ? value
        : -1;
}
