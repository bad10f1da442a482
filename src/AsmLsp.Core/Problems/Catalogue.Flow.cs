namespace AsmLsp.Core.Problems;

/// <content>What the ways through the program prove: banks, pages, the stack, pins.</content>
public static partial class Catalogue
{
    /// <summary>A register is reached in the wrong bank.</summary>
    public static readonly ProblemKind WrongBank = Warning(
        "wrong-bank",
        "{0} is in bank {1}, but {2} is always selected here: this reaches {3} instead. {4}"
    );

    /// <summary>A call or jump goes to the wrong page.</summary>
    public static readonly ProblemKind WrongPage = Warning(
        "wrong-page",
        "{0} is in page {1}, but PCLATH always holds page {2} here: this {3} goes to {4} instead. Set PCLATH before this line, for instance by 'pagesel {0}'."
    );

    /// <summary>Calls are nested deeper than the stack.</summary>
    public static readonly ProblemKind StackTooDeep = Warning(
        "stack-too-deep",
        "This call is number {0} of calls inside each other ({1}), but the stack holds {2} return addresses: the first one is lost, and its RETURN goes astray."
    );

    /// <summary>The program runs on where it has no instruction.</summary>
    public static readonly ProblemKind RunsOffTheEnd = Warning(
        "runs-off-the-end",
        "After this instruction the program continues at {0}, where {1}. Close it with a jump, a return or 'goto $'.{2}"
    );

    /// <summary>The watchdog is on and never cleared.</summary>
    public static readonly ProblemKind WatchdogNeverCleared = Warning(
        "watchdog-never-cleared",
        "The watchdog is on, but the program holds neither CLRWDT nor SLEEP: it starts again and again. Turn the watchdog off here, or clear it in the main loop."
    );

    /// <summary>A pin is read that is not digital after reset.</summary>
    public static readonly ProblemKind PinNotDigital = Warning(
        "pin-not-digital",
        "{0} always reads 0 here: {1}, and the program never writes {2}. Make the pin digital at the start: {3}."
    );

    /// <summary>The pin of low-voltage programming is used.</summary>
    public static readonly ProblemKind LowVoltagePinUsed = Warning(
        "low-voltage-pin-used",
        "{0} is used here, but the configuration leaves low-voltage programming on, which takes this pin away from the program. Turn it off in the configuration ({1})."
    );

    /// <summary>A table that its jump cannot reach as a whole.</summary>
    public static readonly ProblemKind TableCrossesBorder = Warning(
        "table-crosses-border",
        "This jump goes wrong for {0} of the table after it: PCLATH always holds {1} here, and those words start at {2}. Set PCLATH from 'high' of the table before the jump, and keep the table within one block of 256 words."
    );

    /// <summary>A table has fewer entries than its uses ask for.</summary>
    public static readonly ProblemKind TableTooShort = Warning(
        "table-too-short",
        "The table after this jump has {0} entries, but {1} can ask for entry {2}: then the jump lands after the table. Is a line of the table missing? Compare it with the page. If it is complete, limit the number before the jump."
    );

    /// <summary>A skip lands inside several words of one line.</summary>
    public static readonly ProblemKind SkipsIntoMacro = Warning(
        "skips-into-macro",
        "This skips only one word, but {0} after it makes {1} words: the skip lands in the middle of them. Skip over a 'goto' instead."
    );
}
