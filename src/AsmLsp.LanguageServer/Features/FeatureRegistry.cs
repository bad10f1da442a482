using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>A method with its handler, as the connection is reported it.</summary>
internal sealed record RegisteredMethod(string Name, Delegate Handler, Type? Parameters, Type? Result);

/// <summary>
/// What the features register. The order of things is kept here: a notification runs to its end before the next message is looked at; a request
/// takes its snapshot in that same order and then works on another thread.
/// </summary>
internal sealed class FeatureRegistry(ServerContext context)
{
    private readonly List<RegisteredMethod> methods = [];
    private readonly List<Func<ServerCapabilities, ClientProfile, ServerCapabilities>> capabilities = [];
    private readonly List<Func<ClientProfile, Registration?>> dynamic = [];
    private readonly List<Action<ServerContext>> started = [];

    public IReadOnlyList<RegisteredMethod> Methods => methods;

    /// <summary>The session, for a feature that works in the background.</summary>
    public ServerContext Context => context;

    /// <summary>Answers a request by a pure function of the snapshot.</summary>
    public void Request<TParams, TResult>(
        string method,
        Func<RequestContext, TParams, CancellationToken, TResult> handle
    )
        where TParams : class =>
        RequestAsync<TParams, TResult>(
            method,
            (request, parameters, cancellation) => Task.FromResult(handle(request, parameters, cancellation))
        );

    /// <summary>Answers a request whose work asks the client or waits.</summary>
    public void RequestAsync<TParams, TResult>(
        string method,
        Func<RequestContext, TParams, CancellationToken, Task<TResult>> handle
    )
        where TParams : class
    {
        methods.Add(
            new(method, (Func<TParams, CancellationToken, Task<TResult>>)Handle, typeof(TParams), typeof(TResult))
        );

        Task<TResult> Handle(TParams parameters, CancellationToken cancellation)
        {
            RequestContext request = context.Capture();
            long start = Stopwatch.GetTimestamp();
            return Task.Run(
                async () =>
                {
                    try
                    {
                        TResult result = await handle(request, parameters, cancellation).ConfigureAwait(false);
                        Trace(method, start);
                        return result;
                    }
                    catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
                    {
                        throw new LspException(
                            ErrorCodes.ContentModified,
                            "The program changed, or takes too long to work out."
                        );
                    }
                },
                cancellation
            );
        }
    }

    /// <summary>Takes in a notification; must return at once, since the next message waits.</summary>
    public void Notification<TParams>(string method, Action<ServerContext, TParams> handle)
        where TParams : class
    {
        methods.Add(new(method, (Action<TParams>)Handle, typeof(TParams), null));

        void Handle(TParams parameters) => Guarded(method, () => handle(context, parameters));
    }

    /// <summary>Takes in a notification whose parameters say nothing and may be left out.</summary>
    public void Signal(string method, Action<ServerContext> handle)
    {
        methods.Add(new(method, Handle, null, null));

        void Handle(JsonElement? parameters = null) => Guarded(method, () => handle(context));
    }

    /// <summary>Adds to what the server offers, given what the client can do.</summary>
    public void Capability(Func<ServerCapabilities, ClientProfile, ServerCapabilities> add) => capabilities.Add(add);

    /// <summary>Registers with the client once it is ready; null where it can't or needn't.</summary>
    public void Dynamic(Func<ClientProfile, Registration?> register) => dynamic.Add(register);

    /// <summary>Runs when the client says that it is ready (<c>initialized</c>).</summary>
    public void Started(Action<ServerContext> run) => started.Add(run);

    /// <summary>Runs after each change of the workspace, in order; must return at once.</summary>
    public void Changed(Action<ServerContext, WorkspaceChange> run) =>
        context.Workspace.Changed += change => Guarded("a change of the workspace", () => run(context, change));

    /// <summary>All that the server offers to a client.</summary>
    public ServerCapabilities Offer(ClientProfile profile) =>
        capabilities.Aggregate(
            new ServerCapabilities { PositionEncoding = profile.EncodingName },
            (offer, add) => add(offer, profile)
        );

    /// <summary>The client is ready: registrations first, then what else waits for it.</summary>
    public void Start()
    {
        Registration[] wanted = [.. dynamic.Select(register => register(context.Profile)).OfType<Registration>()];
        _ = context.Client.RegisterAsync(wanted, context.Stopping);
        foreach (Action<ServerContext> run in started)
        {
            Guarded(InitializedHandler.Method, () => run(context));
        }
    }

    /// <summary>Nobody sees a fault in a notification, so it is written down; the session continues.</summary>
    private void Guarded(string where, Action run)
    {
        try
        {
            run();
        }
        catch (Exception fault)
        {
            context.Log.Fault(where, fault);
        }
    }

    private void Trace(string method, long start)
    {
        if (context.Client.IsTracing)
        {
            double ms = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
            context.Client.LogTrace(string.Create(CultureInfo.InvariantCulture, $"{method} took {ms:0.0} ms"));
        }
    }
}
