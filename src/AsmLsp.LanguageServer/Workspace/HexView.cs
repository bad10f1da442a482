using System.Runtime.CompilerServices;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Hex;
using AsmLsp.Core.Text;
using AsmLsp.Ide.HexFiles;
using AsmLsp.LanguageServer.Connection;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>A HEX file that is open in the editor.</summary>
/// <param name="File">What it holds.</param>
/// <param name="Document">The document.</param>
internal sealed record HexView(HexFile File, OpenDocument Document)
{
    /// <summary>The language of HEX files in the clients of this project.</summary>
    public const string LanguageId = "relist-hex";

    private static readonly ConditionalWeakTable<OpenDocument, HexFile> Known = [];

    /// <summary>The words; refused, for people, where records are faulty.</summary>
    public WordMemory UsableMemory =>
        File.Reading.IsUsable
            ? File.Reading.Memory
            : throw LspException.Refused(
                $"{Document.Uri.Name} has faulty records, so its words cannot be trusted. Fix it first."
            );

    /// <summary>The chip; refused, for people, where nothing names it.</summary>
    public Device Chip =>
        File.Device
        ?? throw LspException.Refused(
            $"{Document.Uri.Name} does not say which chip it is for. Set it in the settings, or in relist.json: {{ \"chip\": \"16F84A\" }}."
        );

    /// <summary>Whether a document is a HEX file: by the language that the client gives it, else by its name.</summary>
    public static bool IsHex(DocumentUri uri, OpenDocument? document) =>
        document?.LanguageId == LanguageId || uri.Name.EndsWith(".hex", StringComparison.OrdinalIgnoreCase);

    /// <summary>The open HEX file with an address, or null.</summary>
    public static HexView? Find(WorkspacePrograms programs, DocumentUri uri)
    {
        if (
            programs.Snapshot.Documents.GetValueOrDefault(uri) is not { IsTooLarge: false } document
            || !IsHex(uri, document)
        )
            return null;
        Device? chip = ChipOf(programs, uri);
        if (Known.TryGetValue(document, out HexFile? file) && (file.Device == chip || chip is null))
            return new HexView(file, document);
        file = HexFile.Of(document.Text, chip);
        Known.AddOrUpdate(document, file);
        return new HexView(file, document);
    }

    /// <summary>The program whose source has the name of the HEX file, or null.</summary>
    public static ProgramAnalysis? SourceOf(WorkspacePrograms programs, DocumentUri uri)
    {
        if (uri.Path is not { } path)
            return null;
        string source = Path.ChangeExtension(path, ".asm");
        try
        {
            return programs.Find(DocumentUri.FromPath(source))?.Program.Analysis;
        }
        catch (OperationCanceledException)
        {
            // A program that takes too long says nothing about its HEX file.
            return null;
        }
    }

    // The source of the same name says which chip it is for, else the project file, else the settings.
    private static Device? ChipOf(WorkspacePrograms programs, DocumentUri uri) =>
        SourceOf(programs, uri)?.Device
        ?? (
            (uri.Path is { } path ? programs.Files.ProjectOf(Path.GetDirectoryName(path) ?? "").File.Chip : null)
            ?? programs.Snapshot.Settings.Chip
        ) switch
        {
            { } named => DeviceCatalog.Find(named),
            null => null,
        };
}
