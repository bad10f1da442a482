using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>window/workDoneProgress/cancel</c>.</summary>
internal sealed class WorkDoneProgressCancelHandler : IFeature
{
    public const string Method = "window/workDoneProgress/cancel";

    public void Register(FeatureRegistry registry) =>
        registry.Notification<WorkDoneProgressCancelParams>(
            Method,
            (server, cancel) => server.Client.CancelProgress(cancel.Token)
        );
}

internal sealed record WorkDoneProgressCancelParams(IntOrString Token);

internal sealed partial class MessageTypes
{
    public WorkDoneProgressCancelParams? WorkDoneProgressCancelParams { get; init; }
}
