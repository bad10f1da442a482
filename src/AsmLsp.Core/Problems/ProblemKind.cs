using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Problems;

/// <summary>
/// One kind of problem: an entry of the catalogue. The code is a readable slug and names the page
/// <c>docs/problems/CODE.md</c>; the message has places <c>{0}</c>, <c>{1}</c> for what the line at hand says.
/// </summary>
public sealed class ProblemKind
{
    private readonly CompositeFormat message;

    internal ProblemKind(string code, Severity severity, string message)
    {
        Code = code;
        Severity = severity;
        MessageText = message;
        this.message = CompositeFormat.Parse(message);
    }

    /// <summary>The readable code, such as <c>operation-in-label-column</c>.</summary>
    public string Code { get; }

    /// <summary>How much the problem weighs.</summary>
    public Severity Severity { get; }

    /// <summary>The message before its places are filled.</summary>
    public string MessageText { get; }

    /// <summary>The message for one occurrence.</summary>
    public string Format(params ReadOnlySpan<object?> arguments) =>
        string.Format(CultureInfo.InvariantCulture, message, arguments);

    /// <inheritdoc/>
    public override string ToString() => Code;
}
