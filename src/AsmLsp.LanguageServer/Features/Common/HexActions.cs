using AsmLsp.Host;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Commands;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>What a person may do with a HEX file: make source of it, compare it with a source or HEX file beside it.</summary>
internal static class HexActions
{
    /// <summary>A menu that is longer helps nobody.</summary>
    private const int MostFiles = 12;

    public static CommandOrCodeAction[] Of(RequestContext request, HexView hex, CodeActionParams asked)
    {
        if (asked.Context.Only is not null)
        {
            return [];
        }

        string uri = hex.Document.Uri.Text;
        var offered = new List<CommandOrCodeAction>();
        if (hex.File.Reading.IsUsable && hex.File.Device is { } chip)
        {
            offered.Add(
                new Command($"Disassemble for {chip.Name}", DisassembleCommand.CommandName)
                {
                    Arguments = [LspJson.Element(uri), LspJson.Element(chip.Name)],
                }
            );
        }

        if (hex.File.Reading.IsUsable && hex.File.Device is not null)
        {
            offered.Add(
                new Command("Show the bench card", ShowCardCommand.CommandName) { Arguments = [LspJson.Element(uri)] }
            );
        }

        foreach (DocumentUri other in Others(hex.Document.Uri).Take(MostFiles))
        {
            offered.Add(
                new Command($"Compare with {other.Name}", CompareCommand.CommandName)
                {
                    Arguments = [LspJson.Element(uri), LspJson.Element(other.Text)],
                }
            );
        }

        return [.. offered];
    }

    // The source and the HEX of the same name first.
    private static IEnumerable<DocumentUri> Others(DocumentUri own)
    {
        if (own.Path is not { } path || Path.GetDirectoryName(path) is not { } folder)
        {
            return [];
        }

        string stem = Path.GetFileNameWithoutExtension(path);
        return DiskView
            .Instance.NamesIn(folder)
            .Where(name =>
                name != Path.GetFileName(path) && (Path.GetExtension(name).ToLowerInvariant() is ".asm" or ".hex")
            )
            .OrderBy(name => Path.GetFileNameWithoutExtension(name) == stem ? 0 : 1)
            .ThenBy(name => name, StringComparer.Ordinal)
            .Select(name => DocumentUri.FromPath(Path.Combine(folder, name)));
    }
}
