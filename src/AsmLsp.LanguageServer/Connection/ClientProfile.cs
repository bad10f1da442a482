using System.Text.Json;
using AsmLsp.Core.Text;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// What the client declared, as answers to the questions that features ask. Whatever is missing or of an odd shape counts as not declared, so
/// such a client gets the plain form of everything and no requests from the server.
/// </summary>
internal sealed class ClientProfile
{
    private readonly JsonElement? root;

    private ClientProfile(JsonElement? root)
    {
        this.root = root;
        (Encoding, EncodingName) = ChooseEncoding(Texts("general.positionEncodings"));

        HoverMarkdown = Texts("textDocument.hover.contentFormat").Contains("markdown");
        HoverContentFormat = Find("textDocument.hover.contentFormat") is not null;
        CompletionMarkdown = Texts("textDocument.completion.completionItem.documentationFormat").Contains("markdown");
        CompletionSnippets = Flag("textDocument.completion.completionItem.snippetSupport");
        CompletionResolve = Texts("textDocument.completion.completionItem.resolveSupport.properties");
        SignatureMarkdown = Texts("textDocument.signatureHelp.signatureInformation.documentationFormat")
            .Contains("markdown");
        SignatureLabelOffsets = Flag(
            "textDocument.signatureHelp.signatureInformation.parameterInformation.labelOffsetSupport"
        );
        DefinitionLinks = Flag("textDocument.definition.linkSupport");
        HierarchicalSymbols = Flag("textDocument.documentSymbol.hierarchicalDocumentSymbolSupport");
        PrepareRename = Flag("textDocument.rename.prepareSupport");
        CodeActionLiterals = Find("textDocument.codeAction.codeActionLiteralSupport") is not null;
        CodeActionPreferred = Flag("textDocument.codeAction.isPreferredSupport");
        CodeActionDisabled = Flag("textDocument.codeAction.disabledSupport");
        CodeActionData = Flag("textDocument.codeAction.dataSupport");
        CodeActionResolve = Texts("textDocument.codeAction.resolveSupport.properties");
        FoldingLinesOnly = Flag("textDocument.foldingRange.lineFoldingOnly");
        FoldingLimit = Number("textDocument.foldingRange.rangeLimit");
        PullDiagnostics = Find("textDocument.diagnostic") is not null;
        DiagnosticRelatedInformation = Flag("textDocument.publishDiagnostics.relatedInformation");
        DiagnosticTags = Find("textDocument.publishDiagnostics.tagSupport") is not null;
        DiagnosticCodeDescription = Flag("textDocument.publishDiagnostics.codeDescriptionSupport");
        DiagnosticVersions = Flag("textDocument.publishDiagnostics.versionSupport");
        DiagnosticData = Flag("textDocument.publishDiagnostics.dataSupport");
        SemanticTokenTypes = Texts("textDocument.semanticTokens.tokenTypes");

        ApplyEdit = Flag("workspace.applyEdit");
        DocumentChanges = Flag("workspace.workspaceEdit.documentChanges");
        ResourceOperations = Texts("workspace.workspaceEdit.resourceOperations");
        ChangeAnnotations = Find("workspace.workspaceEdit.changeAnnotationSupport") is not null;
        Configuration = Flag("workspace.configuration");
        WorkspaceFolders = Flag("workspace.workspaceFolders");
        WillRenameFiles = Flag("workspace.fileOperations.willRename");
        DidRenameFiles = Flag("workspace.fileOperations.didRename");
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

    /// <summary>The same as the protocol names it; null where the client offered nothing and is told nothing.</summary>
    public string? EncodingName { get; }

    public bool HoverMarkdown { get; }
    public bool HoverContentFormat { get; }
    public bool CompletionMarkdown { get; }
    public bool CompletionSnippets { get; }
    public IReadOnlyList<string> CompletionResolve { get; }
    public bool SignatureMarkdown { get; }
    public bool SignatureLabelOffsets { get; }
    public bool DefinitionLinks { get; }
    public bool HierarchicalSymbols { get; }
    public bool PrepareRename { get; }
    public bool CodeActionLiterals { get; }
    public bool CodeActionPreferred { get; }
    public bool CodeActionDisabled { get; }
    public bool CodeActionData { get; }
    public IReadOnlyList<string> CodeActionResolve { get; }
    public bool FoldingLinesOnly { get; }
    public int? FoldingLimit { get; }
    public bool PullDiagnostics { get; }
    public bool DiagnosticRelatedInformation { get; }
    public bool DiagnosticCodeDescription { get; }

    /// <summary>Whether it shows lines that are of no effect in another way.</summary>
    public bool DiagnosticTags { get; }
    public bool DiagnosticVersions { get; }
    public bool DiagnosticData { get; }
    public IReadOnlyList<string> SemanticTokenTypes { get; }
    public bool ApplyEdit { get; }
    public bool DocumentChanges { get; }
    public IReadOnlyList<string> ResourceOperations { get; }
    public bool ChangeAnnotations { get; }
    public bool Configuration { get; }
    public bool WorkspaceFolders { get; }
    public bool WillRenameFiles { get; }
    public bool DidRenameFiles { get; }
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

    private int? Number(string path) =>
        Find(path) is { ValueKind: JsonValueKind.Number } value && value.TryGetInt32(out int number) ? number : null;

    /// <summary>The strings of a list, in the order given.</summary>
    private List<string> Texts(string path)
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

    private JsonElement? Find(string path)
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
