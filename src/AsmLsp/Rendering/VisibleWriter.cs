using System.Text;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Rendering;

/// <summary>
/// Text for people on a terminal: what would command the terminal or turn a line around is shown by its number. Results that other programs
/// take go to <see cref="Data"/>.
/// </summary>
internal sealed class VisibleWriter(TextWriter inner, bool isTerminal, bool isScreen = false) : TextWriter
{
    public override Encoding Encoding => inner.Encoding;

    /// <summary>Whether a person looks at a terminal here.</summary>
    public bool IsScreen => isScreen;

    /// <summary>Whether colors may be used: on a terminal that has them, unless NO_COLOR is set (no-color.org).</summary>
    public bool HasColor =>
        isScreen
        && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"))
        && Environment.GetEnvironmentVariable("TERM") is not (null or "" or "dumb");

    /// <summary>The line that says that work continues; null where there is none.</summary>
    public Waiting? Waiting { get; init; }

    /// <summary>The writer below, for what is made visible already.</summary>
    public TextWriter Raw
    {
        get
        {
            Waiting?.Clear();
            return inner;
        }
    }

    /// <summary>Writes the word for a severity; in red or yellow on a terminal, since these two ask for something.</summary>
    public static void WriteSeverity(TextWriter writer, Severity severity)
    {
        string? color = severity switch
        {
            Severity.Error => "\u001b[31m",
            Severity.Warning => "\u001b[33m",
            _ => null,
        };
        bool isColored = color is not null && writer is VisibleWriter { HasColor: true };
        if (isColored)
            ((VisibleWriter)writer).Raw.Write(color);
        writer.Write(ProblemText.Word(severity));
        if (isColored)
            ((VisibleWriter)writer).Raw.Write("\u001b[0m");
    }

    /// <summary>The writer for a result: unchanged, unless it would end on a terminal.</summary>
    public static TextWriter Data(TextWriter writer) => (writer as VisibleWriter)?.DataWriter ?? writer;

    private TextWriter DataWriter => isTerminal ? this : inner;

    public override void Write(char value)
    {
        if (VisibleText.IsHidden(value) && value != '\r')
            Raw.Write(VisibleText.Number(value));
        else
            Raw.Write(value);
    }

    public override void Write(string? value)
    {
        if (value is not null)
            Raw.Write(VisibleText.Of(value));
    }

    public override void Write(char[] buffer, int index, int count) => Write(new string(buffer, index, count));

    public override void Write(ReadOnlySpan<char> buffer) => Write(buffer.ToString());

    public override void WriteLine() => Raw.WriteLine();

    public override void WriteLine(string? value) => Raw.WriteLine(VisibleText.Of(value ?? ""));

    public override void Flush() => inner.Flush();
}
