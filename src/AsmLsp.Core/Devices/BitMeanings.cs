namespace AsmLsp.Core.Devices;

/// <summary>
/// What a bit does, in a few words that hold for every chip that has it. From memory, with the data sheets of
/// docs/sources.md open beside.
/// </summary>
internal static class BitMeanings
{
    private static readonly Dictionary<string, string> Texts = new(StringComparer.Ordinal)
    {
        // STATUS, PCON
        ["IRP"] = "bank pair for indirect access: 0 banks 0-1, 1 banks 2-3",
        ["RP1"] = "bank choice for direct access, high bit",
        ["RP0"] = "bank choice for direct access, low bit",
        ["/TO"] = "0 after the watchdog timed out, 1 after power-up, CLRWDT or SLEEP",
        ["/PD"] = "0 after SLEEP, 1 after power-up or CLRWDT",
        ["Z"] = "zero: 1 when the last result was 0",
        ["DC"] = "carry out of the low four bits; after a subtraction 0 means borrow",
        ["C"] = "carry; after a subtraction 0 means borrow",
        ["/POR"] = "0 after power-up; set it to 1 to see the next one",
        ["/BOR"] = "0 after a brown-out reset; set it to 1 to see the next one",
        ["/BOD"] = "0 after a brown-out reset; set it to 1 to see the next one",
        ["/BO"] = "0 after a brown-out reset; set it to 1 to see the next one",
        ["OSCF"] = "internal oscillator: 1 about 4 MHz, 0 slow",
        ["SBOREN"] = "brown-out reset on, where the configuration leaves it to the program",
        ["SBODEN"] = "brown-out reset on, where the configuration leaves it to the program",
        ["ULPWUE"] = "ultra-low-power wake-up on",

        // INTCON
        ["GIE"] = "all interrupts: 1 allowed, 0 held back",
        ["PEIE"] = "interrupts of the peripherals allowed",
        ["ADIE"] = "interrupt at the end of an A/D conversion allowed",
        ["T0IE"] = "interrupt at the overflow of Timer0 allowed",
        ["INTE"] = "interrupt from the INT pin allowed",
        ["RBIE"] = "interrupt on change of port B allowed",
        ["RAIE"] = "interrupt on change of port A allowed",
        ["RABIE"] = "interrupt on change of ports A and B allowed",
        ["GPIE"] = "interrupt on change of the port allowed",
        ["T0IF"] = "Timer0 overflowed; clear it in the program",
        ["INTF"] = "the INT pin asked for an interrupt; clear it in the program",
        ["RBIF"] = "port B changed; read the port, then clear it",
        ["RAIF"] = "port A changed; read the port, then clear it",
        ["RABIF"] = "port A or B changed; read the port, then clear it",
        ["GPIF"] = "the port changed; read the port, then clear it",

        // OPTION
        ["/RBPU"] = "pull-ups of port B: 0 on, 1 off",
        ["/RAPU"] = "pull-ups of port A: 0 on, 1 off",
        ["/RABPU"] = "pull-ups of ports A and B: 0 on, 1 off",
        ["/GPPU"] = "pull-ups of the port: 0 on, 1 off",
        ["INTEDG"] = "edge of the INT pin that counts: 1 rising, 0 falling",
        ["T0CS"] = "Timer0 counts: 1 the T0CKI pin, 0 instruction cycles",
        ["T0SE"] = "edge of T0CKI that counts: 1 falling, 0 rising",
        ["PSA"] = "prescaler belongs to: 1 the watchdog, 0 Timer0",

        // Peripheral interrupts
        ["PSPIE"] = "interrupt of the parallel slave port allowed",
        ["PSPIF"] = "the parallel slave port was read or written; clear it in the program",
        ["ADIF"] = "A/D conversion ended; clear it in the program",
        ["RCIE"] = "interrupt at a received byte allowed",
        ["RCIF"] = "a byte was received; reading RCREG clears it",
        ["TXIE"] = "interrupt when TXREG is empty allowed",
        ["TXIF"] = "TXREG is empty; writing TXREG clears it",
        ["SSPIE"] = "interrupt of the synchronous serial port allowed",
        ["SSPIF"] = "the synchronous serial port is done; clear it in the program",
        ["CCP1IE"] = "interrupt of capture/compare 1 allowed",
        ["CCP1IF"] = "capture or compare 1 happened; clear it in the program",
        ["CCP2IE"] = "interrupt of capture/compare 2 allowed",
        ["CCP2IF"] = "capture or compare 2 happened; clear it in the program",
        ["TMR2IE"] = "interrupt when Timer2 matches PR2 allowed",
        ["TMR2IF"] = "Timer2 matched PR2; clear it in the program",
        ["TMR1IE"] = "interrupt at the overflow of Timer1 allowed",
        ["TMR1IF"] = "Timer1 overflowed; clear it in the program",
        ["EEIE"] = "interrupt at the end of an EEPROM write allowed",
        ["EEIF"] = "EEPROM write ended; clear it in the program",
        ["CMIE"] = "interrupt when a comparator changes allowed",
        ["CMIF"] = "a comparator changed; clear it in the program",
        ["C1IE"] = "interrupt when comparator 1 changes allowed",
        ["C1IF"] = "comparator 1 changed; clear it in the program",
        ["C2IE"] = "interrupt when comparator 2 changes allowed",
        ["C2IF"] = "comparator 2 changed; clear it in the program",
        ["OSFIE"] = "interrupt at a failed clock allowed",
        ["OSFIF"] = "the clock failed and was replaced; clear it in the program",
        ["BCLIE"] = "interrupt at a bus collision allowed",
        ["BCLIF"] = "bus collision on I2C; clear it in the program",
        ["LCDIE"] = "interrupt of the LCD module allowed",
        ["LCDIF"] = "LCD frame ended; clear it in the program",
        ["LVDIE"] = "interrupt of the low-voltage detector allowed",
        ["LVDIF"] = "supply fell below the set voltage; clear it in the program",
        ["ULPWUIE"] = "interrupt of the ultra-low-power wake-up allowed",
        ["ULPWUIF"] = "ultra-low-power wake-up happened; clear it in the program",

        // EEPROM and flash
        ["EEPGD"] = "access goes to: 1 program flash, 0 data EEPROM",
        ["FREE"] = "the next write command erases a row of program flash",
        ["WRERR"] = "a write was broken off by a reset",
        ["WREN"] = "writing allowed",
        ["WR"] = "set it to start a write; the chip clears it when done",
        ["RD"] = "set it to start a read; the chip clears it",

        // Timers and oscillator
        ["T1CKPS1"] = "Timer1 prescaler, high bit: 00 1:1 to 11 1:8",
        ["T1CKPS0"] = "Timer1 prescaler, low bit",
        ["T1OSCEN"] = "Timer1 oscillator on",
        ["/T1SYNC"] = "Timer1 outside clock: 0 synchronized, 1 not",
        ["TMR1CS"] = "Timer1 counts: 1 an outside clock, 0 instruction cycles",
        ["TMR1ON"] = "Timer1 runs",
        ["TMR1GE"] = "Timer1 counts only while its gate allows",
        ["T1GINV"] = "polarity of the Timer1 gate: 1 high counts, 0 low counts",
        ["T1GSS"] = "source of the Timer1 gate: 1 the T1G pin, 0 a comparator",
        ["T1ACS"] = "clock of Timer1: 1 oscillator, 0 oscillator / 4",
        ["T1GSEL"] = "choice of the pin for T1G",
        ["T1RUN"] = "the chip runs from the Timer1 oscillator",
        ["TMR2ON"] = "Timer2 runs",
        ["OSTS"] = "1 while the chip runs from the configured clock",
        ["HTS"] = "fast internal oscillator is stable",
        ["LTS"] = "slow internal oscillator is stable",
        ["IOFS"] = "internal oscillator is stable",
        ["SCS"] = "clock: 1 internal oscillator, 0 as configured",
        ["CALFST"] = "trim the internal oscillator faster",
        ["CALSLW"] = "trim the internal oscillator slower",
        ["SWDTEN"] = "watchdog on, where the configuration leaves it to the program",

        // Serial
        ["SPEN"] = "serial port on: it takes its pins",
        ["RX9"] = "nine-bit reception",
        ["SREN"] = "receive a single byte (synchronous master)",
        ["CREN"] = "receive without a break",
        ["ADEN"] = "address detection in nine-bit reception",
        ["ADDEN"] = "address detection in nine-bit reception",
        ["FERR"] = "framing error in the byte at hand",
        ["OERR"] = "overrun: clear CREN to continue",
        ["RX9D"] = "ninth bit received",
        ["CSRC"] = "synchronous clock: 1 from this chip, 0 from outside",
        ["TX9"] = "nine-bit transmission",
        ["TXEN"] = "transmitter on",
        ["SYNC"] = "1 synchronous, 0 asynchronous",
        ["SENDB"] = "send a break at the next transmission",
        ["BRGH"] = "fast baud rates: 1 divide by 16, 0 divide by 64",
        ["TRMT"] = "1 when the transmit shift register is empty",
        ["TX9D"] = "ninth bit to send",
        ["ABDOVF"] = "automatic baud detection overflowed",
        ["RCIDL"] = "receiver is idle",
        ["SCKP"] = "polarity of the synchronous clock or of the data sent",
        ["BRG16"] = "16-bit baud rate divisor",
        ["WUE"] = "wake up at the next falling edge of RX",
        ["ABDEN"] = "measure the baud rate at the next byte",
        ["WCOL"] = "write collision; clear it in the program",
        ["SSPOV"] = "receive overflow; clear it in the program",
        ["SSPEN"] = "synchronous serial port on: it takes its pins",
        ["CKP"] = "SPI: clock rests high; I2C slave: clock released",
        ["GCEN"] = "answer the general call address",
        ["ACKSTAT"] = "acknowledge of the other side: 0 received, 1 not",
        ["ACKDT"] = "acknowledge to send: 0 yes, 1 no",
        ["ACKEN"] = "send the acknowledge",
        ["RCEN"] = "I2C master receives a byte",
        ["PEN"] = "send a stop",
        ["RSEN"] = "send a repeated start",
        ["SEN"] = "send a start",
        ["SMP"] = "SPI: input sampled at the 1 end, 0 middle; I2C: slew rate control off",
        ["CKE"] = "SPI: edge on which data is sent; I2C: SMBus input levels",
        ["D/A"] = "last byte was: 1 data, 0 address",
        ["P"] = "stop seen last",
        ["S"] = "start seen last",
        ["R/W"] = "slave: 1 read, 0 write; master: transmission continues",
        ["UA"] = "the second half of a 10-bit address must be written to SSPADD",
        ["BF"] = "SSPBUF is full",
        ["IBF"] = "parallel slave port: a byte has come in",
        ["OBF"] = "parallel slave port: the byte written was not read yet",
        ["IBOV"] = "parallel slave port: a byte came in before the last one was read",
        ["PSPMODE"] = "ports D and E form the parallel slave port",

        // Converter and comparators
        ["GO/DONE"] = "set it to start an A/D conversion; 0 again when done",
        ["ADON"] = "A/D converter on",
        ["ADFM"] = "A/D result: 1 right-justified, 0 left-justified",
        ["VCFG"] = "A/D reference: 1 the VREF pin, 0 the supply",
        ["VCFG1"] = "A/D low reference: 1 the VREF- pin, 0 ground",
        ["VCFG0"] = "A/D high reference: 1 the VREF+ pin, 0 the supply",
        ["CIS"] = "comparator input switch",
        ["COUT"] = "comparator output",
        ["CINV"] = "comparator output inverted",
        ["C1OUT"] = "output of comparator 1",
        ["C2OUT"] = "output of comparator 2",
        ["MC1OUT"] = "copy of the output of comparator 1",
        ["MC2OUT"] = "copy of the output of comparator 2",
        ["C1INV"] = "output of comparator 1 inverted",
        ["C2INV"] = "output of comparator 2 inverted",
        ["C1ON"] = "comparator 1 on",
        ["C2ON"] = "comparator 2 on",
        ["C1OE"] = "output of comparator 1 on its pin",
        ["C2OE"] = "output of comparator 2 on its pin",
        ["C1POL"] = "output of comparator 1 inverted",
        ["C2POL"] = "output of comparator 2 inverted",
        ["C1R"] = "plus input of comparator 1: 1 reference, 0 pin",
        ["C2R"] = "plus input of comparator 2: 1 reference, 0 pin",
        ["C2SYNC"] = "output of comparator 2 synchronized to Timer1",
        ["CMSYNC"] = "comparator output synchronized to Timer1",
        ["CMON"] = "comparator on",
        ["CMOE"] = "comparator output on its pin",
        ["CMPOL"] = "comparator output inverted",
        ["VREN"] = "reference voltage on",
        ["VROE"] = "reference voltage on its pin",
        ["VRR"] = "range of the reference voltage: 1 low, 0 high",
        ["CVREN"] = "reference voltage on",
        ["CVROE"] = "reference voltage on its pin",
        ["CVRR"] = "range of the reference voltage: 1 low, 0 high",
        ["C1VREN"] = "reference voltage for comparator 1 on",
        ["C2VREN"] = "reference voltage for comparator 2 on",
        ["CCP1X"] = "PWM 1 duty, the second lowest bit",
        ["CCP1Y"] = "PWM 1 duty, the lowest bit",
        ["DC1B1"] = "PWM 1 duty, the second lowest bit",
        ["DC1B0"] = "PWM 1 duty, the lowest bit",
        ["CCP2X"] = "PWM 2 duty, the second lowest bit",
        ["CCP2Y"] = "PWM 2 duty, the lowest bit",
        ["DC2B1"] = "PWM 2 duty, the second lowest bit",
        ["DC2B0"] = "PWM 2 duty, the lowest bit",
        ["PRSEN"] = "PWM restarts by itself after a shutdown",
        ["ECCPASE"] = "PWM is shut down",
        ["P1M"] = "PWM output arrangement: 1 half bridge, 0 single output",
        ["STRA"] = "PWM steered to output A",
        ["STRB"] = "PWM steered to output B",
        ["STRC"] = "PWM steered to output C",
        ["STRD"] = "PWM steered to output D",
        ["STRSYNC"] = "PWM steering changes: 1 at the next period, 0 at once",
        ["P1ASEL"] = "choice of the pin for PWM output A",
        ["P1BSEL"] = "choice of the pin for PWM output B",
        ["SR1"] = "latch output in place of comparator 2's",
        ["SR0"] = "latch output in place of comparator 1's",
        ["C1SEN"] = "comparator 1 sets the latch",
        ["C2REN"] = "comparator 2 resets the latch",
        ["PULSS"] = "set it to set the latch once",
        ["PULSR"] = "set it to reset the latch once",
        ["FVREN"] = "fixed reference voltage on",
        ["VRSS"] = "comparator reference from: 1 the VREF pins, 0 the supply",
        ["C1RSEL"] = "reference of comparator 1: 1 the divider, 0 the fixed one",
        ["C2RSEL"] = "reference of comparator 2: 1 the divider, 0 the fixed one",
        ["C1HYS"] = "hysteresis of comparator 1 on",
        ["C2HYS"] = "hysteresis of comparator 2 on",
        ["CMHYS"] = "hysteresis of the comparator on",
        ["CMR"] = "plus input of the comparator: 1 reference, 0 pin",
        ["CMCH"] = "choice of the pin for the comparator's minus input",
        ["LCDEN"] = "LCD module on",
        ["SLPEN"] = "LCD module stops in sleep",
        ["WERR"] = "LCD data was written while that was not allowed; clear it in the program",
        ["VLCDEN"] = "LCD bias pins belong to the LCD module",
        ["LCDA"] = "LCD module is active",
        ["LVDEN"] = "low-voltage detector on",
        ["IRVST"] = "reference of the low-voltage detector is stable",
        ["OPAON"] = "operational amplifier on",
    };

    // Bits that together make one number or choice, by the name without the number at its end; the number is the place in it.
    private static readonly Dictionary<string, string> Groups = new(StringComparer.Ordinal)
    {
        ["PS"] = "prescaler rate",
        ["TOUTPS"] = "Timer2 postscaler",
        ["T2CKPS"] = "Timer2 prescaler",
        ["CCP1M"] = "mode of capture/compare/PWM 1",
        ["CCP2M"] = "mode of capture/compare/PWM 2",
        ["P1M"] = "PWM output arrangement",
        ["SSPM"] = "mode of the synchronous serial port",
        ["ADCS"] = "A/D clock",
        ["CHS"] = "A/D channel",
        ["PCFG"] = "which A/D pins are analog",
        ["CM"] = "comparator mode",
        ["C1CH"] = "minus input of comparator 1",
        ["C2CH"] = "minus input of comparator 2",
        ["VR"] = "reference voltage",
        ["CVR"] = "reference voltage",
        ["IRCF"] = "speed of the internal oscillator",
        ["SCS"] = "clock source",
        ["TUN"] = "fine tuning of the internal oscillator",
        ["CAL"] = "trim of the internal oscillator",
        ["WDTPS"] = "watchdog period",
        ["PDC"] = "PWM dead time",
        ["ECCPAS"] = "source that shuts the PWM down",
        ["PSSAC"] = "state of PWM pins A and C while shut down",
        ["PSSBD"] = "state of PWM pins B and D while shut down",
        ["LVDL"] = "voltage of the low-voltage detector",
        ["LMUX"] = "LCD multiplexing",
        ["LP"] = "LCD prescaler",
        ["CS"] = "LCD clock source",
        ["MSK"] = "address mask",
        ["EEADR"] = "EEPROM address",
        ["EEADRH"] = "EEPROM/flash address, high byte",
        ["EEDAT"] = "EEPROM data",
        ["EEDATH"] = "flash data, high byte",
        ["BRG"] = "baud rate divisor",
        ["SRCS"] = "clock of the latch",
    };

    /// <summary>The words for a bit, or an empty string.</summary>
    internal static string Of(BitField bit)
    {
        string register = bit.Register.Name;
        string pin = bit.Spellings[0];
        if (register == "GPIO" || register.StartsWith("PORT", StringComparison.Ordinal))
            return $"level of pin {pin}";
        if (
            register.StartsWith("TRIS", StringComparison.Ordinal)
            && bit.Name.StartsWith("TRIS", StringComparison.Ordinal)
        )
            return $"direction of pin {PinOf(bit)}: 1 input, 0 output";
        if (bit.Name.StartsWith("ANS", StringComparison.Ordinal) && bit.Name.Length > 3)
            return $"pin of A/D channel {bit.Name[3..]}: 1 analog, 0 digital";
        if (register.StartsWith("WPU", StringComparison.Ordinal))
            return "pull-up of this pin on, if pull-ups are allowed";
        if (register.StartsWith("IOC", StringComparison.Ordinal))
            return "interrupt on change of this pin allowed";
        if (Texts.TryGetValue(bit.Name, out string? text))
            return text;

        // T0IE and TMR0IE are one bit under two names.
        foreach (string spelling in bit.Spellings)
        {
            if (Texts.TryGetValue(spelling, out text))
                return text;
        }

        string group = bit.Name.TrimEnd("0123456789".ToCharArray());
        return group.Length < bit.Name.Length && Groups.TryGetValue(group, out text)
            ? $"{text}, bit {bit.Name[group.Length..]}"
            : "";
    }

    // TRISA4 is RA4, TRISIO4 and TRIS4 are GP4.
    private static string PinOf(BitField bit) =>
        bit.Register.Name.Length == "TRISA".Length && bit.Register.Name != "TRIS"
            ? $"R{bit.Register.Name[^1]}{bit.Number}"
            : $"GP{bit.Number}";
}
