using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Problems;

/// <summary>
/// One kind of problem: an entry of the catalogue. The code is a readable slug and names the page
/// <c>docs/problems/CODE.md</c>; the message has places <c>{0}</c>, <c>{1}</c> for what the line at hand says.
/// </summary>
public sealed class ProblemKind
{
    private const int LongestArgument = 400;
    private const int KeptHead = 240;
    private const int KeptTail = 60;

    private readonly CompositeFormat message;

    internal ProblemKind(string code, Severity severity, string message, bool isUnused = false)
    {
        IsUnused = isUnused;
        Code = code;
        Severity = severity;
        MessageText = message;
        this.message = CompositeFormat.Parse(message);
    }

    /// <summary>The readable code, such as <c>operation-not-indented</c>.</summary>
    public string Code { get; }

    /// <summary>How much the problem weighs.</summary>
    public Severity Severity { get; }

    /// <summary>Whether it is about lines or names that nothing uses, which an editor shows faded.</summary>
    public bool IsUnused { get; }

    /// <summary>The message before its places are filled.</summary>
    public string MessageText { get; }

    /// <summary>The message for one occurrence; a text from the program that is too long to read is shortened in it.</summary>
    public string Format(params ReadOnlySpan<object?> arguments)
    {
        object?[]? shortened = null;
        for (int i = 0; i < arguments.Length; i++)
        {
            if (arguments[i] is string { Length: > LongestArgument } text)
                (shortened ??= arguments.ToArray())[i] = Shortened(text);
        }

        return string.Format(CultureInfo.InvariantCulture, message, shortened ?? arguments);
    }

    private static string Shortened(string text)
    {
        int head = char.IsHighSurrogate(text[KeptHead - 1]) ? KeptHead - 1 : KeptHead;
        int tail = text.Length - KeptTail;
        return $"{text.AsSpan(0, head)} ... {text.AsSpan(char.IsLowSurrogate(text[tail]) ? tail + 1 : tail)}";
    }

    /// <inheritdoc/>
    public override string ToString() => Code;
}
