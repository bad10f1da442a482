namespace AsmLsp.Ide.Tests;

/// <summary>Where a name is defined, where else it is, and what may be done with it.</summary>
public sealed class NameTests
{
    [Theory]
    [InlineData("start nop\n goto st{|}art\n end\n", "1:1")]
    [InlineData("start nop\n goto {|}start\n end\n", "1:1")]
    [InlineData("start nop\n goto start{|}\n end\n", "1:1")]
    [InlineData("led equ 5\n bsf PORTB,le{|}d\n end\n", "1:1")]
    [InlineData(" cblock 0x0c\n a,b\n endc\n movwf {|}b\n end\n", "2:4")]
    [InlineData("n set 1\nn set 2\n movlw {|}n\n end\n", "1:1 2:1")]
    [InlineData("#define LAMP PORTB,3\n bsf LA{|}MP\n end\n", "1:9")]
    [InlineData("two macro x\n movlw x\n endm\n tw{|}o 5\n end\n", "1:1")]
    [InlineData("two macro x\n movlw {|}x\n endm\n two 5\n end\n", "1:11")]
    [InlineData("Start nop\n goto st{|}art\n end\n", "1:1")]
    [InlineData(" if 0\n goto ne{|}xt\n endif\nnext nop\n end\n", "4:1")]
    public void A_name_leads_to_its_definitions(string source, string places) => Check.In(source).LeadsTo(places);

    [Theory]
    [InlineData(" mov{|}lw 5\n end\n")]
    [InlineData(" movlw 5 ; st{|}art\nstart nop\n end\n")]
    [InlineData(" movf PO{|}RTB,w\n end\n")]
    [InlineData(" {|}  \n end\n")]
    [InlineData("{|}")]
    public void Words_of_the_language_comments_and_names_of_the_chip_lead_nowhere(string source) =>
        Check.In(source).LeadsTo("");

    [Fact]
    public void An_include_leads_to_its_file() =>
        Check.In(" include \"del{|}ay.inc\"\n end\n", ("delay.inc", "wait return\n")).LeadsTo("delay.inc:1:1");

    [Fact]
    public void A_name_leads_into_another_file() =>
        Check
            .In(" call wa{|}it\n include \"delay.inc\"\n end\n", ("delay.inc", "\nwait return\n"))
            .LeadsTo("delay.inc:2:1");

    [Theory]
    [InlineData("start nop\n goto {|}start\n call start\n end\n", "1:1 2:7 3:7")]
    [InlineData(" movf POR{|}TB,w\n movwf PORTB\n end\n", "1:7 2:8")]
    [InlineData("m macro\n local l\nl goto l\n endm\nl nop\n m\n goto {|}l\n end\n", "5:1 7:7")]
    [InlineData("m macro\n local l\n{|}l goto l\n endm\nl nop\n m\n goto l\n end\n", "2:8 3:1 3:8")]
    [InlineData("led equ 3\n#define LAMP PORTB,led\n bsf LAMP\n movlw {|}led\n end\n", "1:1 2:20 4:8")]
    public void A_name_stands_where_it_means_the_same(string source, string places) =>
        Check.In(source).StandsAt(places);

    [Fact]
    public void Uses_can_be_had_without_the_definition() =>
        Check.In("start nop\n goto {|}start\n call start\n end\n").StandsAt("2:7 3:7", withDefinitions: false);

    [Fact]
    public void What_writes_to_a_register_is_shown_apart() =>
        Check
            .In("n equ 0c\n movwf {|}n\n movf n,w\n incf n,f\n btfss n,0\n bsf n,0\n end\n")
            .Highlights("1:1w 2:8w 3:7r 4:7w 5:8r 6:6w");

    [Fact]
    public void The_own_name_of_a_macro_is_edited_in_all_its_places_together() =>
        Check.In("m macro\n local l\nl goto {|}l\n endm\n m\n end\n").IsEditedTogetherAt("2:8 3:1 3:8");

    [Fact]
    public void A_name_of_the_program_is_not_edited_together() =>
        Check.In("sta{|}rt nop\n goto start\n end\n").IsEditedTogetherAt("");

    [Fact]
    public void An_include_is_a_link_where_its_file_is_known() =>
        Check
            .In("#include <p16f84a.inc>\n include \"delay.inc\"\n end\n", ("delay.inc", " nop\n"))
            .Links("2:10>delay.inc");

    [Theory]
    [InlineData("loop mov{|}lw 0x1f ; comment\n end\n", "movlw")]
    [InlineData("lo{|}op movlw 0x1f ; comment\n end\n", "loop")]
    [InlineData("loop movlw 0x{|}1f ; comment\n end\n", "0x1f")]
    [InlineData("loop movlw 0x1f ; com{|}ment\n end\n", null)]
    [InlineData("{|} movlw 0x1f\n end\n", null)]
    public void A_hover_is_about_the_thing_under_the_cursor(string source, string? thing) =>
        Check.In(source).Explains(thing);
}
