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
            Methods.SignatureHelp,
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
