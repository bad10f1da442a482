using System.Text;
using AsmLsp.Core.Text;

namespace AsmLsp.Rendering;

/// <summary>
/// Text for people on a terminal: what would command the terminal or turn a line around is shown by its number. Results that other programs
/// take go to <see cref="Data"/>.
/// </summary>
internal sealed class VisibleWriter(TextWriter inner, bool isTerminal) : TextWriter
{
    public override Encoding Encoding => inner.Encoding;

    /// <summary>The way for a result: unchanged, unless it would end on a terminal.</summary>
    public static TextWriter Data(TextWriter writer) => (writer as VisibleWriter)?.DataWriter ?? writer;

    private TextWriter DataWriter => isTerminal ? this : inner;

    public override void Write(char value)
    {
        if (VisibleText.IsHidden(value) && value != '\r')
            inner.Write(VisibleText.Number(value));
        else
            inner.Write(value);
    }

    public override void Write(string? value)
    {
        if (value is not null)
            inner.Write(VisibleText.Of(value));
    }

    public override void Write(char[] buffer, int index, int count) => Write(new string(buffer, index, count));

    public override void Write(ReadOnlySpan<char> buffer) => Write(buffer.ToString());

    public override void WriteLine() => inner.WriteLine();

    public override void WriteLine(string? value) => inner.WriteLine(VisibleText.Of(value ?? ""));

    public override void Flush() => inner.Flush();
}
