using AsmLsp.Ide.Completing;

namespace AsmLsp.Ide.Tests;

/// <summary>Completion offers what fits the place and nothing else; signature help says what an operation takes.</summary>
public sealed class CompletionTests
{
    [Theory]
    [InlineData(" {|}\n", "movlw btfss banksel cblock", "PORTB w")]
    [InlineData("start {|}\n", "movlw goto", "start PORTB")]
    [InlineData(" MOVLW 5\n MO{|}\n", "MOVLW MOVF", "movlw")]
    [InlineData("two macro a,b\n endm\n t{|}\n", "two", "PORTB")]
    public void Operations_are_offered_where_one_is_written(string source, string offered, string absent) =>
        Check.In(source).Offers(offered, absent);

    [Theory]
    [InlineData(" movwf {|}\n", "PORTB STATUS TRISA", "movlw w Z start")]
    [InlineData("count equ 0c\n movwf c{|}\n", "count PORTB", "goto")]
    [InlineData(" cblock 0c\n count\n endc\n movwf {|}\n", "count PORTB", "goto")]
    [InlineData(" banksel {|}\n", "TRISB", "movlw")]
    [InlineData(" tris {|}\n", "PORTA PORTB", "STATUS")]
    [InlineData("#define LAMP PORTB,3\n bsf L{|}\n", "LAMP", "movlw")]
    public void Registers_are_offered_where_one_is_named(string source, string offered, string absent) =>
        Check.In(source).Offers(offered, absent);

    [Theory]
    [InlineData(" bsf STATUS,{|}\n", "RP0 Z C", "PORTB w RBIE GIE movlw")]
    [InlineData("stat equ 3\n bsf stat,{|}\n", "RP0 Z C", "PORTB GIE")]
    [InlineData("led equ 2\n bsf PORTB,{|}\n", "led RB0", "PORTB")]
    public void The_bits_of_the_register_are_offered(string source, string offered, string absent) =>
        Check.In(source).Offers(offered, absent);

    [Theory]
    [InlineData(" movf PORTB,{|}\n", "w f", "Z PORTB W")]
    [InlineData(" movf PORTB,W\n movf PORTB,{|}\n", "W F", "w f")]
    [InlineData(" movf PORTB,0\n incf PORTB,1\n movf PORTB,{|}\n", "0 1", "w f W")]
    public void Destinations_are_written_as_the_author_writes_them(string source, string offered, string absent) =>
        Check.In(source).Offers(offered, absent);

    [Theory]
    [InlineData("start nop\nled equ 2\n goto {|}\n", "start", "PORTB led nop")]
    [InlineData("start nop\n call s{|}\n", "start", "PORTB")]
    [InlineData("led equ 2\n movlw {|}\n", "led PORTB high", "movlw")]
    [InlineData(" radix {|}\n", "dec hex", "PORTB")]
    public void Labels_and_values_are_offered_where_they_fit(string source, string offered, string absent) =>
        Check.In(source).Offers(offered, absent);

    [Theory]
    [InlineData(" movwf PORTB ; {|}\n")]
    [InlineData(" dt \"a{|}\"\n")]
    [InlineData(" cblock 0c\n c{|}\n endc\n")]
    [InlineData(" nop {|}\n")]
    public void Nothing_is_offered_where_nothing_is_known(string source) => Check.In(source).OffersOnly("");

    [Theory]
    [InlineData(" list p={|}\n", "16f84a 16f628a")]
    [InlineData(" list p=16{|}\n", "16f84a 16f628a")]
    [InlineData(" processor {|}\n", "16f84a")]
    [InlineData(" include {|}\n", "<p16f84a.inc>")]
    [InlineData("#include <{|}\n", "p16f84a.inc")]
    [InlineData(" list {|}\n", "p= r=")]
    public void Chips_are_offered_where_one_is_named(string source, string offered) => Check.In(source).Offers(offered);

    [Theory]
    [InlineData(" include {|}\n", "\"delay.inc\"")]
    [InlineData(" include \"{|}\n", "delay.inc")]
    public void Files_beside_are_offered_for_an_include(string source, string offered) =>
        Check.In(source).Offers(offered, "", "delay.inc");

    [Fact]
    public void Files_are_not_looked_for_elsewhere() =>
        Completion.At(Check.In(" movlw \n").File, new(0, 7), () => throw new InvalidOperationException("looked"));

    [Fact]
    public void The_configuration_is_offered_field_by_field()
    {
        Check.In(" __config {|}\n").Offers("_WDT_OFF _XT_OSC", "PORTB");
        Check.In(" __config _WDT_OFF & _XT_OSC & {|}\n").Offers("_PWRTE_ON", "_WDT_ON _HS_OSC PORTB");
        Check.In(" __config {|} & _XT_OSC\n").Offers("_WDT_OFF", "_HS_OSC");
    }

    // Data sheet DS35007B, register 6-1: four oscillators.
    [Fact]
    public void At_a_setting_the_others_of_its_field_are_offered() =>
        Check.In(" __config _WDT_OFF & _XT{|}_OSC & _CP_OFF\n").OffersOnly("_HS_OSC _LP_OSC _RC_OSC _XT_OSC");

    [Fact]
    public void A_setting_is_found_by_what_it_means_and_joined_to_the_others()
    {
        var check = Check.In(" __config _XT_OSC watch{|}\n");
        Assert.Contains("watchdog", check.Offer("_WDT_OFF").AlsoFoundBy, StringComparison.Ordinal);
        check.Completes("_WDT_OFF", " __config _XT_OSC & _WDT_OFF");
    }

    [Fact]
    public void The_whole_word_under_the_cursor_is_replaced() =>
        Check.In(" movwf PO{|}RT\n end\n").Completes("PORTB", " movwf PORTB");

    [Fact]
    public void An_operation_in_column_one_is_indented_as_the_others_are() =>
        Check.In("\tnop\n\tnop\nmo{|}\n\tend\n").Completes("movlw", "\tmovlw");

    [Fact]
    public void A_label_that_is_missing_is_offered_in_column_one() =>
        Check.In(" call wait\n{|}\n end\n").Completes("wait", "wait");

    [Theory]
    [InlineData(" {|}\n", "movlw", "Puts the constant into W.")]
    [InlineData(" {|}\n", "cblock", "rising values")]
    [InlineData("led equ 2 ; red lamp\n movlw {|}\n", "led", "red lamp")]
    [InlineData(" bsf STATUS,{|}\n", "RP0", "bit 5")]
    [InlineData(" movwf {|}\n", "PORTB", "0x06")]
    public void An_offer_has_documentation(string source, string offer, string words) =>
        Check.In(source).Documents(offer, words);

    [Theory]
    [InlineData(" bsf {|}\n", "bsf [f],b")]
    [InlineData(" bsf PORTB,{|}\n", "bsf f,[b]")]
    [InlineData(" movf PORTB,w{|}\n", "movf f,[d]")]
    [InlineData(" MOVLW {|}\n", "MOVLW [k]")]
    [InlineData(" movlw 1,{|}\n", "movlw k")]
    [InlineData("two macro a,b\n endm\n two 1,{|}\n", "two a,[b]")]
    [InlineData(" {|}nop\n", "none")]
    [InlineData(" nop {|}\n", "none")]
    [InlineData(" movlw 5 ; {|}\n", "none")]
    [InlineData(" nonsense {|}\n", "none")]
    public void The_operands_of_an_operation_are_shown(string source, string expected) =>
        Check.In(source).Helps(expected);
}
