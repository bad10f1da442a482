namespace AsmLsp.Core.Recovery.Pastes;

/// <summary>Whether the characters of a line, passed from left to right, are in quotes of the program; those of its comment are not.</summary>
internal struct QuoteState
{
    private char quote;
    private bool isComment;

    /// <summary>Whether a quote is open.</summary>
    public readonly bool IsOpen => quote != '\0';

    /// <summary>Passes the character at a place; what is skipped, such as a tag, opens and closes nothing.</summary>
    public void Pass(string line, int at)
    {
        char c = line[at];
        if (IsOpen)
            quote = c == quote ? '\0' : quote;
        // A quote that is not closed is an apostrophe.
        else if (!isComment && c is '"' or '\'' && line.IndexOf(c, at + 1) > 0)
            quote = c;
        else
            isComment |= c == ';';
    }
}
