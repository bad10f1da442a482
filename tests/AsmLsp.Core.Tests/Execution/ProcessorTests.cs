using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Tests.Execution;

/// <summary>
/// Registers of the core, banks, the program counter, the stack and cycles. Source: reference manual DS33023, "Memory Organization",
/// "CPU and ALU" and "Instruction Set"; the same in data sheet DS35007B, sections 2 and 7.
/// </summary>
public class ProcessorTests
{
    // Data sheet DS35007B, table 7-2: cycles of each instruction; (2) where the skip happens.
    [Theory]
    [InlineData(" addwf 20h,f", 1), InlineData(" clrf 20h", 1), InlineData(" clrw", 1), InlineData(" nop", 1)]
    [InlineData(" decfsz 20h,f", 1), InlineData(" incfsz 20h,f", 1), InlineData(" btfsc 20h,0", 2)]
    [InlineData(" btfss 20h,0", 1), InlineData(" bsf 20h,0", 1), InlineData(" movlw 1", 1), InlineData(" sublw 1", 1)]
    [InlineData(" clrwdt", 1), InlineData(" sleep", 1), InlineData(" call 5", 2), InlineData(" goto 5", 2)]
    [InlineData(" goto 1", 2), InlineData(" return", 2), InlineData(" retlw 1", 2), InlineData(" retfie", 2)]
    [InlineData(" option", 1), InlineData(" tris 6", 1), InlineData(" swapf 20h,w", 1), InlineData(" movwf 20h", 1)]
    // A write to PCL takes two (DS33023, "Instruction Flow": the fetched instruction is flushed).
    [
        InlineData(" movwf PCL", 2),
        InlineData(" addwf PCL,f", 2),
        InlineData(" clrf PCL", 2),
        InlineData(" movf PCL,w", 1)
    ]
    public void An_instruction_takes_the_cycles_of_the_data_sheet(string line, int cycles) =>
        Assert.Equal(cycles, Chips.With(line).Run(1).Cycles);

    [Theory]
    [InlineData(" decfsz 20h,f", 1), InlineData(" incfsz 20h,f", 255), InlineData(" btfss 20h,0", 1)]
    public void A_skip_that_happens_takes_two_cycles(string line, int value)
    {
        Processor chip = Chips.With(line);
        chip.Poke(0x20, value);
        Assert.Equal((2, 2), (chip.Run(1).Cycles, chip.ProgramCounter));
    }

    // DS35007B, section 2.3.1: CLRF STATUS leaves 000u u1uu; BCF, BSF, SWAPF and MOVWF write all but TO and PD.
    [Theory]
    [InlineData(" clrf STATUS", 0xFF, 0x00, 0x1F)]
    [InlineData(" clrf STATUS", 0xE8, 0x00, 0x0C)]
    [InlineData(" movwf STATUS", 0x18, 0xFF, 0xFF)]
    [InlineData(" movwf STATUS", 0x00, 0xFF, 0xE7)]
    [InlineData(" movwf STATUS", 0xFF, 0x00, 0x18)]
    [InlineData(" bsf STATUS,2", 0x18, 0x00, 0x1C)]
    [InlineData(" bcf STATUS,3", 0x18, 0x00, 0x18)]
    [InlineData(" swapf STATUS,f", 0x1A, 0x00, 0xB9)]
    [InlineData(" movf STATUS,f", 0x1F, 0x00, 0x1B)]
    [InlineData(" addwf STATUS,f", 0x18, 0x20, 0x38)]
    [InlineData(" andwf STATUS,f", 0xFF, 0x03, 0x1B)]
    [InlineData(" rlf STATUS,f", 0x9B, 0x00, 0x3B)]
    [InlineData(" incf STATUS,f", 0x1F, 0x00, 0x3B)]
    public void Flags_of_an_instruction_win_over_what_it_writes_to_STATUS(string line, int before, int w, int after)
    {
        Processor chip = Chips.With(line);
        (chip.Status, chip.W) = (before, w);
        Assert.Equal($"{after:X2}", $"{chip.Run(1).Status:X2}");
    }

    [Theory]
    [InlineData(0x00, 0x20, 0x20), InlineData(0x20, 0x20, 0xA0), InlineData(0x40, 0x20, 0x120)]
    // 0x70..0x7F is the same memory in every bank of this chip (DS40044B, figure 4-1), and so is STATUS.
    [
        InlineData(0x60, 0x75, 0x75),
        InlineData(0x20, 0x7F, 0x7F),
        InlineData(0x40, 0x03, 0x03),
        InlineData(0x20, 0x05, 0x85)
    ]
    // PORTB shows in banks 0 and 2, TRISB in 1 and 3.
    [InlineData(0x40, 0x06, 0x06), InlineData(0x60, 0x06, 0x86)]
    public void RP1_and_RP0_choose_the_bank(int status, int register, int address)
    {
        Processor chip = Chips.With(" nop");
        chip.Status = status | 0x18;
        Assert.Equal(address, chip.AddressOf(register));
    }

    [Theory]
    [
        InlineData(0x00, 0x2A, 0x2A),
        InlineData(0x00, 0xAA, 0xAA),
        InlineData(0x80, 0x2A, 0x12A),
        InlineData(0x60, 0x2A, 0x2A)
    ]
    [InlineData(0x80, 0xF5, 0x75), InlineData(0x00, 0x80, -1), InlineData(0x00, 0x00, -1)]
    public void FSR_and_IRP_choose_the_register_of_INDF(int status, int pointer, int address)
    {
        Processor chip = Chips.With(" nop");
        chip.Status = status | 0x18;
        chip.Poke(4, pointer);
        Assert.Equal(address, chip.AddressOf(0));
    }

    [Fact]
    public void A_chip_of_two_banks_does_not_look_at_RP1_and_IRP()
    {
        Processor chip = Chips.With(" nop", "16f84a");
        chip.Status = 0xD8;
        chip.Poke(4, 0x2C);
        Assert.Equal((0x2C, 0x2C), (chip.AddressOf(0x2C), chip.AddressOf(0)));
    }

    [Fact]
    public void INDF_reached_through_itself_reads_0_and_keeps_nothing_but_sets_the_flag()
    {
        Processor chip = Chips.With(" movlw 55h\n movwf INDF\n movf INDF,w");
        chip.Run(3);
        Assert.Equal((0, 4), (chip.W, chip.Status & 7));
    }

    [Fact]
    public void Where_there_is_no_memory_a_write_vanishes_and_a_read_gives_0()
    {
        // 0x07 is no register of this chip (DS40044B, figure 4-1).
        Processor chip = Chips.With(" movlw 55h\n movwf 7\n movf 7,w");
        Assert.Equal(0, chip.Run(3).W);
    }

    [Fact]
    public void Bits_that_a_register_does_not_have_stay_0()
    {
        Processor chip = Chips.With(" movlw 0ffh\n movwf PCLATH\n movf PCLATH,w\n movlw 0ffh\n movwf VRCON");
        Assert.Equal(0x1F, chip.Run(3).W);
        // VRCON has no bit 4 (DS40044B, register 11-1), but lies in bank 1: what is written here is CMCON of bank 0.
        chip = Chips.With(" bsf STATUS,5\n movlw 0ffh\n movwf VRCON");
        Assert.Equal(0xEF, chip.Run(3).Peek(0x9F));
    }

    [Theory]
    // The address after the instruction, and W: the table starts right there.
    [InlineData(" movlw 3\n addwf PCL,f", 0, 5)]
    // PCLATH gives the upper bits, and a carry out of PCL is lost.
    [InlineData(" movlw 0ffh\n addwf PCL,f", 1, 0x101)]
    [InlineData(" movlw 40h\n movwf PCL", 2, 0x240)]
    [InlineData(" nop\n bsf PCL,4", 3, 0x312)]
    public void A_write_to_PCL_jumps_with_the_bits_of_PCLATH(string lines, int latch, int to)
    {
        Processor chip = Chips.With(lines);
        chip.Latch = latch;
        Assert.Equal(to, chip.Run(2).ProgramCounter);
    }

    [Fact]
    public void PCL_reads_as_the_address_of_the_next_instruction_and_leaves_PCLATH_alone()
    {
        Processor chip = Chips.With(" nop\n nop\n movf PCL,w");
        chip.Latch = 2;
        Assert.Equal((3, 2), (chip.Run(3).W, chip.Latch));
    }

    [Theory]
    [InlineData(0x00, 0x123), InlineData(0x08, 0x923), InlineData(0x10, 0x1123), InlineData(0x1F, 0x1923)]
    public void CALL_and_GOTO_take_the_page_from_PCLATH(int latch, int to)
    {
        foreach (string name in (string[])["call", "goto"])
        {
            Processor chip = Chips.With($" {name} 123h", "16f877a");
            chip.Latch = latch;
            Assert.Equal(to, chip.Run(1).ProgramCounter);
        }
    }

    [Fact]
    public void A_return_goes_to_the_page_of_its_call_whatever_PCLATH_holds()
    {
        Processor chip = Chips.With(" call 123h\n org 123h\n bsf PCLATH,3\n return", "16f877a");
        Assert.Equal(1, chip.Run(3).ProgramCounter);
    }

    [Fact]
    public void The_ninth_call_overwrites_the_first_return_address()
    {
        Processor chip = Chips.With(
            string.Concat(Enumerable.Range(0, 9).Select(i => $" call 0x{i * 4 + 4:X}\n org 0x{i * 4 + 4:X}\n"))
                + " return"
        );
        chip.Run(9);
        Assert.Equal((9, 9, true), (chip.Stack.Depth, chip.Stack.Deepest, chip.Stack.HasOverflowed));
        // Eight returns find the eight last calls; the ninth takes the newest address once more.
        for (int i = 8; i >= 1; i--)
        {
            chip.ProgramCounter = 36;
            Assert.Equal(i * 4 + 1, chip.Run(1).ProgramCounter);
        }

        chip.ProgramCounter = 36;
        Assert.Equal(33, chip.Run(1).ProgramCounter);
        Assert.False(chip.Stack.HasUnderflowed);
        chip.ProgramCounter = 36;
        Assert.True(chip.Run(1).Stack.HasUnderflowed);
    }

    [Fact]
    public void An_interrupt_calls_its_code_with_interrupts_off_and_RETFIE_goes_back_with_them_on()
    {
        Processor chip = Chips.With(" bsf INTCON,7\n nop\n org 4\n retfie");
        chip.Run(1);
        chip.Interrupt();
        Assert.Equal((4, 0), (chip.ProgramCounter, chip.Peek(0x0B) & 0x80));
        chip.Run(1);
        Assert.Equal((1, 0x80, 5), (chip.ProgramCounter, chip.Peek(0x0B) & 0x80, chip.Cycles));
    }

    // DS33023, SLEEP: TO 1, PD 0; CLRWDT: both 1.
    [Fact]
    public void SLEEP_stops_until_something_wakes_the_processor()
    {
        Processor chip = Chips.With(" sleep\n clrwdt");
        Assert.Equal(0x10, chip.Run(1).Status & 0x18);
        Assert.Equal((StepResult.Asleep, 1), (chip.Step(), chip.Cycles));
        chip.Wake();
        Assert.Equal((0x18, 2), (chip.Run(1).Status & 0x18, chip.ProgramCounter));
    }

    [Fact]
    public void OPTION_and_TRIS_write_their_registers_from_any_bank()
    {
        Processor chip = Chips.With(" movlw 0c7h\n option\n movlw 0fh\n tris 6");
        Assert.Equal((0xC7, 0x0F), (chip.Run(4).Peek(0x81), chip.Peek(0x86)));
    }

    // Values after power-on: DS35007B, table 6-3.
    [Fact]
    public void After_power_on_the_registers_have_the_values_of_the_data_sheet()
    {
        Processor chip = Chips.With(" nop", "16f84a");
        Assert.Equal(
            (0x18, 0xFF, 0x1F, 0xFF, 0, 0),
            (chip.Status, chip.Peek(0x81), chip.Peek(0x85), chip.Peek(0x86), chip.Latch, chip.ProgramCounter)
        );
    }

    [Fact]
    public void An_erased_word_adds_255_to_W_and_the_counter_comes_round()
    {
        Processor chip = Chips.With(" movlw 7", "16f84a");
        chip.Run(2);
        Assert.Equal(6, chip.W);
        chip.ProgramCounter = 0x3FF;
        Assert.Equal(0, chip.Run(1).ProgramCounter);
    }

    [Fact]
    public void A_word_that_is_no_instruction_is_not_executed()
    {
        Processor chip = Chips.With(" dw 1");
        Assert.Equal((StepResult.NotAnInstruction, 0, 0), (chip.Step(), chip.ProgramCounter, chip.Cycles));
    }

    [Fact]
    public void Peripherals_answer_for_special_registers_only()
    {
        Processor chip = Chips.With(" movf PORTB,w\n movwf 20h\n movf 20h,w\n movwf TXREG");
        var outside = new Echo();
        chip.Peripherals = outside;
        Assert.Equal(0xA5, chip.Run(3).W);
        chip.Run(1);
        Assert.Equal(["r06", "w19=A5"], outside.Seen);
        Assert.Equal(0x3C, chip.Peek(0x19));
    }

    private sealed class Echo : IPeripherals
    {
        public List<string> Seen { get; } = [];

        public int Read(int address, int stored)
        {
            Seen.Add($"r{address:X2}");
            return 0xA5;
        }

        public int Write(int address, int value)
        {
            Seen.Add($"w{address:X2}={value:X2}");
            return 0x3C;
        }
    }
}
