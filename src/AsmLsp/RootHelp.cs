using System.CommandLine;
using AsmLsp.Core.Shapes;
using AsmLsp.Rendering;
using AsmLsp.Verbs;

namespace AsmLsp;

/// <summary>The help about all commands, and what to say to a command that is not there.</summary>
internal static class RootHelp
{
    // What people call these jobs elsewhere, from memory.
    private static readonly Dictionary<string, string> OtherWords = new(StringComparer.OrdinalIgnoreCase)
    {
        ["assemble"] = "build",
        ["compile"] = "build",
        ["make"] = "build",
        ["hex"] = "build",
        ["lint"] = "check",
        ["validate"] = "check",
        ["test"] = "check",
        ["format"] = "tidy",
        ["clean"] = "tidy",
        ["fix"] = "tidy",
        ["diff"] = "compare",
        ["verify"] = "compare",
        ["lsp"] = "serve",
        ["server"] = "serve",
        ["convert"] = "recover",
        ["extract"] = "recover",
        ["pdf"] = "recover",
        ["ocr"] = "recover",
        ["scan"] = "recover",
        ["read"] = "readout",
        ["info"] = "explain",
        ["disasm"] = "disassemble",
        ["devices"] = "chips",
        ["device"] = "chips",
        ["list"] = "chips",
    };

    /// <summary>Whether a command line asks for the help about all commands.</summary>
    public static bool IsAskedFor(string[] args) => args is ["--help" or "-h" or "-?" or "/?" or "help"];

    /// <summary>Writes each command with its arguments, the optional ones in brackets, and the first sentence about it.</summary>
    public static void Write(TextWriter output)
    {
        output.WriteLine("Recovers printed listings of mid-range PIC programs, explains them and builds HEX files.");
        output.WriteLine();
        output.WriteLine("Usage: relist COMMAND [OPTIONS]");
        output.WriteLine();
        TextTable.Write(
            output,
            [],
            [
                .. CommandLine.Verbs.Select(static verb =>
                {
                    Command command = verb.Create();
                    return new[] { Usage(command), FirstSentence(command.Description ?? "") };
                }),
            ],
            "  "
        );
        output.WriteLine();
        TextTable.Paragraph(
            output,
            "",
            "'relist COMMAND --help' shows the options of a command and examples. 'relist --version' shows the version."
        );
        output.WriteLine("From a document to a HEX file: relist recover kit.pdf -o kit.asm, then relist build kit.asm");
    }

    /// <summary>What to say to a command that is not there.</summary>
    public static string Unknown(string word)
    {
        if (File.Exists(word))
        {
            string verb =
                HexInput.IsSource(word) ? "build"
                : word.EndsWith(".hex", StringComparison.OrdinalIgnoreCase) ? "readout"
                : "recover";
            return $"'{word}' is a file, not a command. Try: relist {verb} {word}";
        }

        string? near = OtherWords.GetValueOrDefault(word);
        near ??= CommandLine
            .Verbs.Select(static verb => verb.Create().Name)
            .Select(name => (Name: name, Far: Distance(word, name)))
            .Where(static candidate => candidate.Far <= Math.Max(2, candidate.Name.Length / 3))
            .OrderBy(static candidate => candidate.Far)
            .Select(static candidate => candidate.Name)
            .FirstOrDefault();
        return near is null
            ? $"'{word}' is not a command. 'relist --help' lists the commands."
            : $"'{word}' is not a command. Do you mean '{near}'? 'relist --help' lists the commands.";
    }

    // The beginning of a command's name is as good as a slip in it.
    private static int Distance(string word, string name) =>
        word.Length > 2 && name.StartsWith(word, StringComparison.OrdinalIgnoreCase) ? 0 : WordDistance.Of(word, name);

    private static string Usage(Command command)
    {
        Command own = command.Subcommands is [var only] ? only : command;
        return string.Join(
            ' ',
            own.Arguments.Select(static argument =>
                {
                    string name = argument.Name + (argument.Arity.MaximumNumberOfValues > 1 ? "..." : "");
                    return argument.Arity.MinimumNumberOfValues == 0 ? $"[{name}]" : name;
                })
                .Prepend(own == command ? command.Name : $"{command.Name} {own.Name}")
        );
    }

    private static string FirstSentence(string text)
    {
        int end = text.IndexOf(". ", StringComparison.Ordinal),
            line = text.IndexOf('\n', StringComparison.Ordinal);
        end = end < 0 ? text.Length : end + 1;
        return text[..(line >= 0 ? Math.Min(end, line) : end)];
    }
}
