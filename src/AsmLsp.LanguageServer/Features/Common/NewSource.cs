using System.Globalization;
using System.Text;
using AsmLsp.Host;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>A source that a command makes, opened for the person.</summary>
internal static class NewSource
{
    /// <summary>A name beside the document that nothing has yet.</summary>
    public static string FreePath(string document, string suffix)
    {
        string stem = Path.Combine(Path.GetDirectoryName(document)!, Path.GetFileNameWithoutExtension(document));
        for (int i = 0; ; i++)
        {
            string path = i switch
            {
                0 => stem + ".asm",
                1 => $"{stem}-{suffix}.asm",
                _ => string.Create(CultureInfo.InvariantCulture, $"{stem}-{suffix}-{i}.asm"),
            };
            if (!File.Exists(path) && !Directory.Exists(path))
            {
                return path;
            }
        }
    }

    /// <summary>As a new buffer where the client can make one, so that the person decides about saving; else as a file.</summary>
    public static async Task<string> OpenAsync(
        RequestContext request,
        string path,
        string text,
        string label,
        CancellationToken cancellation
    )
    {
        Client client = request.Server.Client;
        string address = DocumentUri.FromPath(path).Text;
        bool opened = false;
        if (
            request.Profile is { ApplyEdit: true, DocumentChanges: true }
            && request.Profile.ResourceOperations.Contains("create")
        )
        {
            var edit = new WorkspaceEdit
            {
                DocumentChanges =
                [
                    new CreateFile(address)
                    {
                        Options = new() { Overwrite = false, IgnoreIfExists = false },
                    },
                    new TextDocumentEdit(new(address, null), [new LspTextEdit(new(new(0, 0), new(0, 0)), text)]),
                ],
            };
            opened = (await client.ApplyEditAsync(label, edit, cancellation).ConfigureAwait(false))?.Applied == true;
        }

        if (!opened && AtomicWriter.Write(path, Encoding.UTF8.GetBytes(text)) is { } fault)
        {
            throw LspException.Refused(fault);
        }

        await client.ShowDocumentAsync(new(address) { TakeFocus = true }, cancellation).ConfigureAwait(false);
        return address;
    }
}
