using AsmLsp.LanguageServer.Protocol;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>
/// Where a session is, by the order in which its messages arrive. A request before <c>initialize</c> is answered with -32002, a second
/// <c>initialize</c> and every request after <c>shutdown</c> with -32600; such notifications are dropped; <c>exit</c> always counts.
/// </summary>
internal sealed class Lifecycle
{
    private int state;

    private enum ServerState
    {
        New,
        Running,
        ShutDown,
        Exited,
    }

    /// <summary>0 after an orderly shutdown, 1 after anything else.</summary>
    public int ExitCode { get; private set; } = 1;

    public bool HasExited => Current == ServerState.Exited;

    private ServerState Current => (ServerState)Volatile.Read(ref state);

    /// <summary>
    /// Notes a message at its arrival; gives the error that answers it, or null where it is to be handled.
    /// </summary>
    public LspException? Admit(string method, bool isRequest)
    {
        switch (method)
        {
            case Methods.Exit:
                Move(ServerState.Exited);
                return null;
            case Methods.Initialize when isRequest:
                if (
                    Interlocked.CompareExchange(ref state, (int)ServerState.Running, (int)ServerState.New)
                    != (int)ServerState.New
                )
                {
                    return new(ErrorCodes.InvalidRequest, "initialize was already sent in this session.");
                }

                return null;
        }

        switch (Current)
        {
            case ServerState.New:
                return new(ErrorCodes.ServerNotInitialized, "The first request of a session is initialize.");
            case ServerState.ShutDown or ServerState.Exited:
                return new(ErrorCodes.InvalidRequest, "The session was shut down; only exit may follow.");
        }

        if (method == Methods.Shutdown && isRequest)
        {
            ExitCode = 0;
            Move(ServerState.ShutDown);
        }

        return null;
    }

    /// <summary>Lets a client that was refused at <c>initialize</c> try again.</summary>
    public void InitializeFailed() =>
        Interlocked.CompareExchange(ref state, (int)ServerState.New, (int)ServerState.Running);

    private void Move(ServerState to) => Volatile.Write(ref state, (int)to);
}
