using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>window/workDoneProgress/cancel</c>.</summary>
internal sealed class WorkDoneProgressCancelHandler : IFeature
{
    public void Register(FeatureRegistry registry) =>
        registry.Notification<WorkDoneProgressCancelParams>(
            Methods.WorkDoneProgressCancel,
            (server, cancel) => server.Client.CancelProgress(cancel.Token)
        );
}
