using System.CommandLine;
using System.CommandLine.Parsing;
using AsmLsp.Core.Shapes;

namespace AsmLsp;

/// <summary>A mistake on the command line in one sentence, with what may be meant.</summary>
internal static class CommandMistakes
{
    // What people call these options elsewhere, from memory.
    private static readonly Dictionary<string, string> OtherWords = new(StringComparer.OrdinalIgnoreCase)
    {
        ["--device"] = "--chip",
        ["--processor"] = "--chip",
        ["--mcu"] = "--chip",
        ["--part"] = "--chip",
        ["-p"] = "--chip",
        ["--out"] = "--output",
        ["-I"] = "--include",
        ["-D"] = "--define",
        ["--list"] = "--programs",
        ["--listing"] = "--pick",
        ["--program"] = "--pick",
        ["--check"] = "--dry-run",
        ["--map"] = "--words",
        ["--strict"] = "--no-open-doubts",
        ["--frequency"] = "--clock",
    };

    /// <summary>The first mistake; null where there is none, or where help is asked for.</summary>
    public static string? Of(ParseResult parsed, string[] args)
    {
        if (args.Any(static a => a is "--help" or "-h" or "-?" or "/?" or "--version"))
            return null;
        Command command = parsed.CommandResult.Command;
        string path = string.Join(' ', Path(parsed.CommandResult));
        if (UnknownOption(parsed) is { } unknown)
            return $"'{path}' has no option '{unknown}'.{Meant(command, unknown)}{More(path)}";
        if (parsed.Errors.Count == 0)
            return null;
        if (command.Subcommands.Count > 0)
            return $"'{path}' needs one more word: {string.Join(" or ", command.Subcommands.Select(s => $"'relist {path} {s.Name}'"))}.{More(path)}";
        foreach (Argument argument in command.Arguments)
            if ((parsed.GetResult(argument)?.Tokens.Count ?? 0) < argument.Arity.MinimumNumberOfValues)
                return $"'{path}' needs {argument.Name}: {Lower(argument.Description)}{More(path)}";
        foreach (Option option in command.Options)
            if (option.Required && parsed.GetResult(option) is null or { Implicit: true })
                return $"'{path}' needs {option.Name} {option.HelpName}: {Lower(option.Description)}{More(path)}";
        if (parsed.UnmatchedTokens is [var extra, ..])
            return $"'{extra}' is one argument too many for '{path}'.{More(path)}";
        if (parsed.Errors[0].SymbolResult is OptionResult { Option: var wrong } result)
            return (
                    result.Tokens is [var value, ..]
                        ? $"'{value.Value}' is nothing that {wrong.Name} takes: {Lower(wrong.Description)}"
                        : $"{wrong.Name} needs a value: {Lower(wrong.Description)}"
                ) + More(path);
        return parsed.Errors[0].Message + More(path);
    }

    private static IEnumerable<string> Path(CommandResult result) =>
        result.Parent is CommandResult above ? [.. Path(above), result.Command.Name] : [];

    // An option that no command has is taken for the name of a file where such a name may be.
    private static string? UnknownOption(ParseResult parsed)
    {
        bool isName = false;
        foreach (Token token in parsed.Tokens)
        {
            if (token.Type == TokenType.DoubleDash)
                return null;
            if (!isName && token.Type == TokenType.Argument && token.Value is ['-', _, ..] && !File.Exists(token.Value))
                return token.Value.Split('=')[0];
            // What comes after an option may be its value, whatever it looks like.
            isName = token.Type == TokenType.Option;
        }

        return null;
    }

    private static string Meant(Command command, string unknown)
    {
        string[] names = [.. command.Options.SelectMany(static o => o.Aliases.Prepend(o.Name))];
        string? near = OtherWords.GetValueOrDefault(unknown) is { } other && names.Contains(other) ? other : null;
        near ??= names
            .Where(static n => n.StartsWith("--", StringComparison.Ordinal))
            .Select(name => (Name: name, Far: Distance(unknown, name)))
            .Where(static candidate => candidate.Far <= 2)
            .OrderBy(static candidate => candidate.Far)
            .Select(static candidate => candidate.Name)
            .FirstOrDefault();
        return near is null ? "" : $" Do you mean '{near}'?";
    }

    private static int Distance(string word, string name) =>
        word.Length > 4 && name.StartsWith(word, StringComparison.OrdinalIgnoreCase) ? 0 : WordDistance.Of(word, name);

    private static string Lower(string? description) =>
        string.IsNullOrEmpty(description) ? "" : char.ToLowerInvariant(description[0]) + description[1..];

    private static string More(string path) => $" 'relist {path} --help' shows its options.";
}
