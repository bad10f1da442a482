using System.Globalization;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// The flags of <c>serve</c>, as <c>--flag value</c> or <c>--flag=value</c>. Unknown ones are warned of and passed over: an editor restarts a
/// server that refuses a flag for ever.
/// </summary>
/// <param name="Pipe">The pipe to connect to, or null.</param>
/// <param name="Port">The port of this machine to connect to, or null.</param>
/// <param name="ClientProcessId">The process whose end is ours, or null.</param>
/// <param name="Warnings">What was passed over.</param>
/// <param name="Fault">Why there is no way to the client, or null.</param>
internal sealed record ServeArguments(
    string? Pipe,
    int? Port,
    int? ClientProcessId,
    IReadOnlyList<string> Warnings,
    string? Fault
)
{
    public static ServeArguments Parse(IReadOnlyList<string> arguments)
    {
        string? pipe = null,
            fault = null;
        int? port = null,
            process = null;
        var warnings = new List<string>();
        for (int i = 0; i < arguments.Count; i++)
        {
            string argument = arguments[i];
            int equals = argument.IndexOf('=', StringComparison.Ordinal);
            string flag = equals < 0 ? argument : argument[..equals];
            switch (flag)
            {
                case "--stdio":
                    break;
                case "--pipe":
                    pipe = Value();
                    fault = string.IsNullOrEmpty(pipe) ? "--pipe needs the name of a pipe." : fault;
                    break;
                case "--socket":
                    port = Number(Value(), 65535);
                    fault = port is null ? "--socket needs a port number from 1 to 65535." : fault;
                    break;
                case "--clientProcessId":
                    process = Number(Value(), int.MaxValue);
                    if (process is null)
                    {
                        warnings.Add("--clientProcessId without a process number is passed over.");
                    }

                    break;
                default:
                    warnings.Add($"{flag} is not a flag of serve; it is passed over.");
                    break;
            }

            string? Value()
            {
                if (equals >= 0)
                {
                    return argument[(equals + 1)..];
                }

                return i + 1 < arguments.Count && !arguments[i + 1].StartsWith("--", StringComparison.Ordinal)
                    ? arguments[++i]
                    : null;
            }
        }

        return new(pipe, port, process, warnings, fault);
    }

    private static int? Number(string? text, int most) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number)
        && number >= 1
        && number <= most
            ? number
            : null;
}
