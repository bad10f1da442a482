using System.Text.Json.Serialization;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Completing;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/signatureHelp</c>: which operands the operation takes, and which one is being written.</summary>
internal sealed class SignatureHelpHandler : IFeature
{
    public const string Method = "textDocument/signatureHelp";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) =>
                offer with
                {
                    SignatureHelpProvider = new() { TriggerCharacters = [" ", "\t", ","], RetriggerCharacters = [","] },
                }
        );
        registry.Request<SignatureHelpParams, SignatureHelp?>(
            Method,
            (request, asked, _) => request.Asked(asked) is var (view, at) ? Handle(request, view, at) : null
        );
    }

    public static SignatureHelp? Handle(RequestContext request, DocumentView view, LinePosition at)
    {
        if (OperationHelp.At(view.File, at) is not { } help)
        {
            return null;
        }

        var signature = new SignatureInformation(help.Label)
        {
            Documentation = help.Markdown is { } about
                ? ClientText.Documentation(about, request.Profile.SignatureMarkdown)
                : null,
            Parameters =
            [
                .. help.Parts.Select(part => new ParameterInformation(
                    request.Profile.SignatureLabelOffsets
                        ? new[] { part.Start, part.End }
                        : help.Label[part.Start..part.End]
                )
                {
                    Documentation =
                        part.About.Length > 0
                            ? ClientText.Documentation(part.About, request.Profile.SignatureMarkdown)
                            : null,
                }),
            ],
        };
        return new SignatureHelp([signature]) { ActiveSignature = 0, ActiveParameter = help.Active };
    }
}

internal enum SignatureHelpTriggerKind
{
    Invoked = 1,
    TriggerCharacter = 2,
    ContentChange = 3,
}

internal sealed record SignatureHelpOptions
{
    public string[]? TriggerCharacters { get; init; }
    public string[]? RetriggerCharacters { get; init; }
}

internal sealed record SignatureHelpContext(SignatureHelpTriggerKind TriggerKind, bool IsRetrigger)
{
    public string? TriggerCharacter { get; init; }
}

internal sealed record SignatureHelpParams(TextDocumentIdentifier TextDocument, Position Position)
    : TextDocumentPositionParams(TextDocument, Position)
{
    public SignatureHelpContext? Context { get; init; }
}

internal sealed record SignatureHelp(SignatureInformation[] Signatures)
{
    public int? ActiveSignature { get; init; }
    public int? ActiveParameter { get; init; }
}

internal sealed record SignatureInformation(string Label)
{
    [JsonConverter(typeof(StringOrConverter<MarkupContent>))]
    public StringOr<MarkupContent>? Documentation { get; init; }
    public ParameterInformation[]? Parameters { get; init; }
    public int? ActiveParameter { get; init; }
}

/// <summary>The label is a part of the signature's label: as text, or as [start, end) where the client reads offsets.</summary>
internal sealed record ParameterInformation(
    [property: JsonConverter(typeof(StringOrConverter<int[]>))] StringOr<int[]> Label
)
{
    [JsonConverter(typeof(StringOrConverter<MarkupContent>))]
    public StringOr<MarkupContent>? Documentation { get; init; }
}

internal sealed partial record ServerCapabilities
{
    public SignatureHelpOptions? SignatureHelpProvider { get; init; }
}

internal sealed partial class MessageTypes
{
    public SignatureHelpParams? SignatureHelpParams { get; init; }
    public SignatureHelp? SignatureHelp { get; init; }
    public int[]? IntList { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class SignatureHelpClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether documentation is shown as Markdown.</summary>
        public bool SignatureMarkdown =>
            client.Texts("textDocument.signatureHelp.signatureInformation.documentationFormat").Contains("markdown");

        /// <summary>Whether an operand may be given by its place in the label.</summary>
        public bool SignatureLabelOffsets =>
            client.Flag("textDocument.signatureHelp.signatureInformation.parameterInformation.labelOffsetSupport");
    }
}
