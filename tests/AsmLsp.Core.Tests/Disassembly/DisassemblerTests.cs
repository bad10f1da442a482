using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Disassembly;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Disassembly;

public class DisassemblerTests
{
    private static readonly string[] Chips =
    [
        "PIC16F84A",
        "PIC16F628A",
        "PIC16F877A",
        "PIC12F675",
        "PIC16F887",
        "PIC16C74",
    ];

    [Fact]
    public void Any_words_come_back_the_same_from_their_source() =>
        Gen.Select(
                Gen.Int[0, Chips.Length - 1].Select(i => Chips[i]),
                Gen.Dictionary(Gen.Int[0, 0x1FF], Gen.UShort[0, 0x3FFF])[1, 200],
                Gen.UShort[0, 0x3FFF],
                Gen.Byte.Array[0, 20]
            )
            .Draw(
                (chip, program, configuration, eeprom) =>
                {
                    Device device = DeviceCatalog.Find(chip)!;
                    var cells = new Dictionary<int, ushort>(program) { [0x2007] = configuration, [0x2001] = 5 };
                    for (int i = 0; i < eeprom.Length && i < device.EepromBytes; i++)
                        cells[0x2100 + i] = eeprom[i];
                    WordMemory memory = WordMemory.From(cells);
                    string source = Disassembler.Write(memory, device, "test");
                    ProgramAnalysis again = Assembler.Assemble(new SourceFile("again.asm", SourceText.From(source)));
                    return !again.HasErrors && again.Image.Memory.SequenceEqual(memory);
                },
                iter: 300
            );

    [Fact]
    public void Every_word_of_fourteen_bits_comes_back()
    {
        Device device = DeviceCatalog.Find("PIC16F877A")!;
        WordMemory memory = WordMemory.From(
            Enumerable.Range(0, 0x2000).Select(i => KeyValuePair.Create(i, (ushort)(i * 2)))
        );
        foreach (int odd in (int[])[0, 1])
        {
            WordMemory half = WordMemory.From(memory.Select(c => KeyValuePair.Create(c.Key, (ushort)(c.Value + odd))));
            ProgramAnalysis again = Assembler.Assemble(
                new SourceFile("again.asm", SourceText.From(Disassembler.Write(half, device, "test")))
            );
            Assert.False(again.HasErrors);
            Assert.True(again.Image.Memory.SequenceEqual(half));
        }
    }

    // Words by data sheet DS35007B, table 7-2; addresses of registers and configuration bits from memory of the same data sheet.
    [Fact]
    public void A_read_out_becomes_source_with_the_names_of_the_chip() =>
        Gives(
            """
            ; read-out
            ; Names of routines and variables are not in a chip; those here are made from addresses.
            ; A register is written as a number where its bank is not certain.
                    list p=16f84a
                    #include <p16f84a.inc>

            ; CP: program memory readable (no protection)
            ; /PWRTE: power-up delay timer on (about 72 ms)
            ; WDTE: watchdog off
            ; FOSC1:FOSC0: standard crystal or resonator, up to 4 MHz
                    __config _CP_OFF & _PWRTE_ON & _WDT_OFF & _XT_OSC

                    __idlocs 0x1A2B

            ram0C   equ 0x0C

                    org 0x0000
                    goto loc0005

                    org 0x0005
            loc0005 bsf STATUS,RP0
                    clrf TRISB
                    bcf STATUS,RP0
                    bsf PORTB,RB0
                    movf ram0C,W
                    call rtn000C
                    goto loc0005

            rtn000C addwf PCL,F
                    retlw 0x41              ; 'A'
                    retlw 0x00

                    org 0x2100
                    de 0x48,0x69,0xFF

                    end

            """,
            "16F84A",
            (0, 0x2805),
            (5, 0x1683),
            (6, 0x0186),
            (7, 0x1283),
            (8, 0x1406),
            (9, 0x080C),
            (10, 0x200C),
            (11, 0x2805),
            (12, 0x0782),
            (13, 0x3441),
            (14, 0x3400),
            (0x2000, 1),
            (0x2001, 0xA),
            (0x2002, 2),
            (0x2003, 0xB),
            (0x2007, 0x3FF1),
            (0x2100, 'H'),
            (0x2101, 'i'),
            (0x2102, 0xFF)
        );

    // BSF STATUS,RP0 is skipped or not: which bank is in force after it is not sure.
    [Fact]
    public void A_register_is_a_number_where_the_bank_is_not_sure()
    {
        string source = Source("16F84A", (0, 0x1803), (1, 0x1683), (2, 0x0186), (3, 0x0183), (4, 0x2804));
        Assert.Contains("\n        clrf 0x06\n        clrf STATUS\n", source, StringComparison.Ordinal);
    }

    [Fact]
    public void A_routine_that_comes_back_with_another_bank_is_followed()
    {
        // call 3; clrf TRISB; goto 2; bsf STATUS,RP0; return
        string source = Source("16F84A", (0, 0x2003), (1, 0x0186), (2, 0x2802), (3, 0x1683), (4, 0x0008));
        Assert.Contains("call rtn0003\n        clrf TRISB\n", source, StringComparison.Ordinal);
    }

    [Fact]
    public void An_interrupt_may_come_in_any_bank()
    {
        // goto 7; movwf PORTB; bcf STATUS,RP0; movwf PORTB again; retfie
        string source = Source("16F84A", (0, 0x2808), (4, 0x0086), (5, 0x1283), (6, 0x0086), (7, 0x0009), (8, 0x2808));
        Assert.Contains(
            "; An interrupt comes here.\n        movwf 0x06\n        bcf STATUS,RP0\n        movwf PORTB\n",
            source,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void A_jump_worked_out_from_a_value_leaves_no_bank_sure()
    {
        // bcf STATUS,RP0; clrf PORTB; movwf PCL
        string source = Source("16F84A", (0, 0x1283), (1, 0x0186), (2, 0x0082));
        Assert.Contains("clrf 0x06\n", source, StringComparison.Ordinal);
    }

    // On a chip of four pages bits 3 and 4 of PCLATH choose the page of a call (from memory).
    [Fact]
    public void A_call_into_another_page_gets_its_label()
    {
        // bsf PCLATH,3; call 0x010 in page 1; bcf PCLATH,3; goto 2; at 0x0010 a goto to itself, at 0x0810 return
        string source = Source(
            "16F877A",
            (0, 0x158A),
            (1, 0x2010),
            (2, 0x118A),
            (3, 0x2810),
            (0x10, 0x2810),
            (0x810, 0x0008)
        );
        Assert.Contains(
            "bsf PCLATH,3\n        call rtn0810\n        bcf PCLATH,3\n        goto loc0010\n",
            source,
            StringComparison.Ordinal
        );
        Assert.Contains("\nrtn0810 return\n", source, StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_loaded_from_a_constant_is_followed()
    {
        // movlw 8; movwf PCLATH; goto 0x010 in page 1
        string source = Source("16F877A", (0, 0x3008), (1, 0x008A), (2, 0x2810), (0x10, 0x0008), (0x810, 0x2810));
        Assert.Contains("goto loc0810\n", source, StringComparison.Ordinal);
        Assert.DoesNotContain("loc0010", source, StringComparison.Ordinal);
    }

    [Fact]
    public void A_call_whose_page_is_not_sure_stays_a_number()
    {
        // movf 0x20,W; movwf PCLATH; goto 0x010, which is in two pages
        string source = Source("16F877A", (0, 0x0820), (1, 0x008A), (2, 0x2810), (0x10, 0x0008), (0x810, 0x0008));
        Assert.Contains("goto 0x010\n", source, StringComparison.Ordinal);
    }

    [Fact]
    public void Words_that_are_no_instruction_become_data_and_say_what_they_do()
    {
        string source = Source(
            "16F84A",
            (0, 0x2800),
            (1, 0x0001),
            (2, 0x0002),
            (3, 0x3105),
            (4, 0x3FFF),
            (5, 0x3FFF),
            (6, 0x3FFF),
            (7, 0x3FFF),
            (8, 0x3FFF)
        );
        Assert.Contains(
            "dw 0x0001,0x0002\n        dw 0x3105               ; runs as movlw 0x05\n        dw 0x3FFF,0x3FFF,0x3FFF,0x3FFF,0x3FFF ; erased\n",
            source,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Two_configuration_words_each_get_their_address()
    {
        string source = Source("16F887", (0, 0x2800), (0x2007, 0x2FF4), (0x2008, 0x3FFF));
        Assert.Contains("__config 0x2007, ", source, StringComparison.Ordinal);
        Assert.Contains("__config 0x2008, ", source, StringComparison.Ordinal);
    }

    [Fact]
    public void A_configuration_with_unused_bits_at_0_stays_a_number() =>
        Assert.Contains(
            "__config 0x2110\n",
            Source("16F628A", (0, 0x2800), (0x2007, 0x2110)),
            StringComparison.Ordinal
        );

    [Fact]
    public void Code_protection_is_reported_beside_the_configuration() =>
        Assert.Contains(
            "; Code protection is on.",
            Source("16F84A", (0, 0x2800), (0x2007, 0x0001)),
            StringComparison.Ordinal
        );

    [Fact]
    public void A_word_of_more_than_14_bits_is_a_doubt_and_stays_in_sight()
    {
        DisassembledProgram made = Made("16F84A", (0, 0x2800), (1, 0xF005), (0x2007, 0xFFF1), (0x2100, 0x4001));
        Assert.Equal([1, 0x2007, 0x2100], made.Doubts.Select(d => d.Address));
        Assert.Contains("dw 0x3005               ;? the file has 0xF005 here\n", made.Text, StringComparison.Ordinal);
        Assert.Contains(" ;? the file has 0xFFF1 here\n", made.Text, StringComparison.Ordinal);
        Assert.Contains("dw 0x0001               ;? the file has 0x4001 here\n", made.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0x0400, "PIC16F84A")]
    [InlineData(0x2006, "device ID")]
    [InlineData(0x2008, "PIC16F84A")]
    [InlineData(0x2140, "PIC16F84A")]
    public void A_word_that_the_chip_does_not_have_is_a_doubt_and_the_source_still_builds(int address, string reported)
    {
        DisassembledProgram made = Made("16F84A", (0, 0x2800), (address, 0x1066));
        DisassemblyDoubt doubt = Assert.Single(made.Doubts);
        Assert.Equal(address, doubt.Address);
        Assert.Contains(reported, doubt.Message, StringComparison.Ordinal);
        Assert.Contains($"; 0x{address:X4}: 0x1066\n", made.Text, StringComparison.Ordinal);
        ProgramAnalysis again = Assemble(made.Text);
        Assert.False(again.HasErrors);
        Assert.Equal([0], again.Image.Memory.Select(c => c.Key));
    }

    [Fact]
    public void Without_a_chip_registers_are_numbers_and_the_words_are_the_same()
    {
        WordMemory memory = Memory((0, 0x2801), (1, 0x1683), (2, 0x0186), (3, 0x2801), (0x2007, 0x3FF1), (0x2100, 5));
        DisassembledProgram made = Disassembler.Disassemble(memory, null, "read-out");
        Assert.Empty(made.Doubts);
        Assert.Contains("goto loc0001\n\nloc0001 bsf 0x03,5\n        clrf 0x06\n", made.Text, StringComparison.Ordinal);
        Assert.True(Assemble(made.Text).Image.Memory.SequenceEqual(memory));
    }

    [Fact]
    public void Nothing_at_all_is_reported() =>
        Assert.Single(Disassembler.Disassemble(WordMemory.Empty, DeviceCatalog.Find("16F84A"), "empty").Doubts);

    // Any HEX file: every word is either given back exactly, or doubted; whatever the chip.
    [Fact]
    public void No_word_is_changed_without_a_doubt() =>
        Gen.Select(
                Gen.Int[0, DeviceCatalog.Names.Length - 1],
                Gen.Dictionary(
                    Gen.OneOf(Gen.Int[0, 0x60], Gen.Int[0x7F0, 0x810], Gen.Int[0x1FF0, 0x2110], Gen.Int[0, 0xFFFF]),
                    Gen.OneOf(
                        Gen.UShort[0, 0x3FFF],
                        Gen.UShort,
                        Gen.UShort[0x2000, 0x2FFF],
                        Gen.Const((ushort)0),
                        Gen.Const((ushort)0x3FFF)
                    )
                )[1, 120],
                Gen.Bool
            )
            .Draw(
                (chip, cells, known) =>
                {
                    WordMemory memory = WordMemory.From(cells);
                    DisassembledProgram made = Disassembler.Disassemble(
                        memory,
                        known ? DeviceCatalog.Find(DeviceCatalog.Names[chip]) : null,
                        "test"
                    );
                    ProgramAnalysis again = Assemble(made.Text);
                    bool same = !again.HasErrors && again.Image.Memory.SequenceEqual(memory);
                    return same == made.Doubts.IsEmpty;
                },
                iter: 500
            );

    private static void Gives(string expected, string chip, params (int Address, int Word)[] cells) =>
        Assert.Equal(expected, Source(chip, cells));

    /// <summary>A source without doubts, which must assemble without a warning to the words that it was made from.</summary>
    private static string Source(string chip, params (int Address, int Word)[] cells)
    {
        DisassembledProgram made = Made(chip, cells);
        Assert.Empty(made.Doubts);
        ProgramAnalysis again = Assemble(made.Text);
        Assert.DoesNotContain(
            again.Problems,
            p => p.Severity != Severity.Information && p.Kind != Catalogue.NoConfiguration
        );
        Assert.Equal(Memory(cells), again.Image.Memory);
        return made.Text;
    }

    private static DisassembledProgram Made(string chip, params (int Address, int Word)[] cells) =>
        Disassembler.Disassemble(Memory(cells), DeviceCatalog.Find(chip), "read-out");

    private static ProgramAnalysis Assemble(string source) =>
        Assembler.Assemble(new SourceFile("again.asm", SourceText.From(source)));

    private static WordMemory Memory(params (int Address, int Word)[] cells) =>
        WordMemory.From(cells.Select(c => KeyValuePair.Create(c.Address, (ushort)c.Word)));
}
