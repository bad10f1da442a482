namespace AsmLsp.Ide.Tests;

/// <summary>Renaming: everywhere that a name means the same, and never so that the program changes.</summary>
public sealed class RenameTests
{
    [Theory]
    [InlineData(
        "{|}start nop\n goto start ; start over\n end\n",
        "begin",
        "begin nop\n goto begin ; start over\n end\n"
    )]
    [InlineData("Start nop\n goto st{|}art\n end\n", "begin", "begin nop\n goto begin\n end\n")]
    [InlineData(
        "led equ 3\n#define LAMP PORTB,led\n bsf LAMP\n movlw {|}led\n end\n",
        "lamp1",
        "lamp1 equ 3\n#define LAMP PORTB,lamp1\n bsf LAMP\n movlw lamp1\n end\n"
    )]
    [InlineData(
        "n equ 1\n if 0\n movlw n\n endif\n movlw {|}n\n end\n",
        "m",
        "m equ 1\n if 0\n movlw m\n endif\n movlw m\n end\n"
    )]
    [InlineData(
        "n equ 1\nidle macro\n movlw n\n endm\n movlw {|}n\n end\n",
        "m",
        "m equ 1\nidle macro\n movlw m\n endm\n movlw m\n end\n"
    )]
    [InlineData(
        "two macro x\n movlw {|}x\n endm\nx nop\n two 5\n goto x\n end\n",
        "value",
        "two macro value\n movlw value\n endm\nx nop\n two 5\n goto x\n end\n"
    )]
    [InlineData(
        "m macro\n local l\nl goto {|}l\n endm\nl nop\n m\n goto l\n end\n",
        "again",
        "m macro\n local again\nagain goto again\n endm\nl nop\n m\n goto l\n end\n"
    )]
    [InlineData("pulse macro\n nop\n endm\n {|}pulse\n end\n", "tick", "tick macro\n nop\n endm\n tick\n end\n")]
    [InlineData(
        " cblock 0x0c\n a,{|}b\n endc\n movwf b\n end\n",
        "count",
        " cblock 0x0c\n a,count\n endc\n movwf count\n end\n"
    )]
    public void A_name_is_renamed_everywhere_that_it_means_the_same(string source, string newName, string expected) =>
        Check.In(source).Renames(newName, expected);

    [Fact]
    public void A_name_is_renamed_in_all_files() =>
        Check
            .In(" call {|}wait\n include \"delay.inc\"\n end\n", ("delay.inc", "wait nop\n return\n"))
            .Renames("pause", " call pause\n include \"delay.inc\"\n end\n", "pause nop\n return\n");

    [Fact]
    public void The_same_name_changes_nothing() => Check.In("{|}start nop\n end\n").Renames("start");

    [Theory]
    [InlineData(" movf PO{|}RTB,w\n end\n", "x", "name of the chip")]
    [InlineData(" mov{|}lw 5\n end\n", "x", "no name here")]
    [InlineData("{|}start nop\nother nop\n end\n", "other", "defined already")]
    [InlineData("{|}start nop\nother nop\n end\n", "OTHER", "differs in capital letters only")]
    [InlineData("{|}start nop\n end\n", "goto", "is an instruction")]
    [InlineData("{|}start nop\n end\n", "cblock", "is a directive")]
    [InlineData("{|}start nop\n end\n", "1st", "can't be a name")]
    [InlineData("{|}start nop\n end\n", "two words", "can't be a name")]
    [InlineData("{|}start nop\n end\n", "portb", "name of the chip")]
    [InlineData("{|}start nop\n end\n", "w", "name of the chip")]
    [InlineData("m macro x\n movlw x\n endm\n{|}start nop\n m 5\n end\n", "x", "name of its own")]
    [InlineData("m macro x,y\n movlw {|}x\n movlw y\n endm\n m 5,6\n end\n", "y", "has a name y already")]
    [InlineData("n1 equ 1\n{|}n2 equ 2\nk set 2\n movlw n#v(k)\n end\n", "zz", "nothing was renamed")]
    public void A_rename_that_would_change_something_is_refused_with_the_reason(
        string source,
        string newName,
        string reason
    ) => Check.In(source).RefusesToRename(newName, reason);
}
