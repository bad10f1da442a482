namespace AsmLsp.Core.Text;

/// <summary>
/// One line of a text: its characters and its own line end. Immutable, and shared between the versions of a text
/// as long as nobody touches the line, so that what was made of it can be kept with it.
/// </summary>
public sealed class TextLine
{
    internal TextLine(string text, string ending) => (Text, Ending) = (text, ending);

    /// <summary>The characters of the line without its end.</summary>
    public string Text { get; }

    /// <summary>The line end as written: "\n", "\r\n", "\r", or "" on the last line.</summary>
    public string Ending { get; }

    /// <summary>Characters of the line with its end.</summary>
    public int FullLength => Text.Length + Ending.Length;

    /// <summary>
    /// Room for the layer above to keep what it computed from this line alone. A line never changes, so whoever
    /// sets it twice sets the same thing: no lock is needed.
    /// </summary>
    internal object? Memo { get; set; }
}
