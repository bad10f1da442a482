using System.CommandLine;
using AsmLsp.Host.Building;

namespace AsmLsp;

/// <summary>The options of every verb that reads a program: they are the same everywhere.</summary>
internal sealed class SourceOptions
{
    private readonly Option<string?> chip = Sources.ChipOption();
    private readonly Option<string[]> include = Sources.IncludeOption();
    private readonly Option<string?> project = Sources.ProjectOption();
    private readonly Option<string[]> define = Sources.DefineOption();

    /// <summary>The options of a new command.</summary>
    public SourceOptions(Command command)
    {
        command.Options.Add(chip);
        command.Options.Add(include);
        command.Options.Add(project);
        command.Options.Add(define);
    }

    /// <summary>What a command line asks for.</summary>
    public DiskRequest Read(ParseResult parsed) =>
        new()
        {
            Chip = parsed.GetValue(chip),
            IncludeFolders = parsed.GetValue(include) ?? [],
            ProjectFile = parsed.GetValue(project),
            Defines = parsed.GetValue(define) ?? [],
        };
}
