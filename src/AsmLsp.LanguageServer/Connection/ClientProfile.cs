using System.Collections.Concurrent;
using System.Text.Json;
using AsmLsp.Core.Text;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// What the client declared, as answers to the questions that features ask. Whatever is missing or of an odd shape counts as not declared, so
/// such a client gets the plain form of everything and no requests from the server. What only one method asks is in the file of that method.
/// </summary>
internal sealed class ClientProfile
{
    private readonly JsonElement? root;

    // Some are asked about for each problem of a long list.
    private readonly ConcurrentDictionary<string, JsonElement?> found = new();

    private ClientProfile(JsonElement? root)
    {
        this.root = root;
        (Encoding, EncodingName) = ChooseEncoding(Texts("general.positionEncodings"));

        ApplyEdit = Flag("workspace.applyEdit");
        DocumentChanges = Flag("workspace.workspaceEdit.documentChanges");
        ResourceOperations = Texts("workspace.workspaceEdit.resourceOperations");
        Configuration = Flag("workspace.configuration");
        CodeLensRefresh = Flag("workspace.codeLens.refreshSupport");
        InlayHintRefresh = Flag("workspace.inlayHint.refreshSupport");
        SemanticTokensRefresh = Flag("workspace.semanticTokens.refreshSupport");
        DiagnosticRefresh = Flag("workspace.diagnostics.refreshSupport");

        WorkDoneProgress = Flag("window.workDoneProgress");
        ShowDocument = Flag("window.showDocument.support");
        ShowMessageRequest = Find("window.showMessage") is not null;
    }

    /// <summary>How columns are counted on the wire.</summary>
    public ColumnEncoding Encoding { get; }

    /// <summary>The same as the protocol names it; null where the client offered nothing and is reported nothing.</summary>
    public string? EncodingName { get; }

    public bool ApplyEdit { get; }
    public bool DocumentChanges { get; }
    public IReadOnlyList<string> ResourceOperations { get; }
    public bool Configuration { get; }
    public bool CodeLensRefresh { get; }
    public bool InlayHintRefresh { get; }
    public bool SemanticTokensRefresh { get; }
    public bool DiagnosticRefresh { get; }
    public bool WorkDoneProgress { get; }
    public bool ShowDocument { get; }
    public bool ShowMessageRequest { get; }

    /// <summary>Reads the capabilities as the client sent them, or as nothing.</summary>
    public static ClientProfile From(JsonElement? capabilities) => new(capabilities);

    /// <summary>
    /// Whether a capability (<c>textDocument.hover</c>, <c>workspace.didChangeConfiguration</c>) can be registered later.
    /// </summary>
    public bool CanRegister(string capability) => Flag(capability + ".dynamicRegistration");

    /// <summary>Whether there is anything at a path.</summary>
    public bool Has(string path) => Find(path) is not null;

    /// <summary>Whether a flag at a path is set.</summary>
    public bool Flag(string path) => Find(path) is { ValueKind: JsonValueKind.True };

    private static (ColumnEncoding Encoding, string? Name) ChooseEncoding(IReadOnlyList<string> offered)
    {
        foreach (string name in offered)
        {
            switch (name)
            {
                case "utf-8":
                    return (ColumnEncoding.Utf8, name);
                case "utf-16":
                    return (ColumnEncoding.Utf16, name);
                case "utf-32":
                    return (ColumnEncoding.Utf32, name);
            }
        }

        return (ColumnEncoding.Utf16, null);
    }

    /// <summary>The number at a path, or null.</summary>
    public int? Number(string path) =>
        Find(path) is { ValueKind: JsonValueKind.Number } value && value.TryGetInt32(out int number) ? number : null;

    /// <summary>The strings of a list, in the order given.</summary>
    public IReadOnlyList<string> Texts(string path)
    {
        var texts = new List<string>();
        if (Find(path) is { ValueKind: JsonValueKind.Array } list)
        {
            foreach (JsonElement entry in list.EnumerateArray())
            {
                if (entry.ValueKind == JsonValueKind.String)
                {
                    texts.Add(entry.GetString()!);
                }
            }
        }

        return texts;
    }

    private JsonElement? Find(string path) => found.GetOrAdd(path, Look);

    private JsonElement? Look(string path)
    {
        if (root is not { } at)
        {
            return null;
        }

        foreach (Range part in path.AsSpan().Split('.'))
        {
            if (at.ValueKind != JsonValueKind.Object || !at.TryGetProperty(path.AsSpan()[part], out at))
            {
                return null;
            }
        }

        return at.ValueKind is JsonValueKind.Null or JsonValueKind.Undefined ? null : at;
    }
}
