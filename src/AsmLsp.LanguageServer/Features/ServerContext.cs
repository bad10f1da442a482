using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>What lives as long as the session.</summary>
internal sealed class ServerContext
{
    private readonly Lazy<PrintedLines> printedLines;
    private int closed;

    public ServerContext(Func<LspConnection?> connection, ServerLog log, TimeProvider clock, CancellationToken stopping)
    {
        Log = log;
        Clock = clock;
        Stopping = stopping;
        printedLines = new(() => new PrintedLines(Documents, Clock, Stopping));
        Client = new Client(connection, () => Profile);
        Workspace = new CurrentWorkspace(log.Warn);
        Workspace.Changed += change =>
        {
            if (change.Kind == ChangeKind.Closed)
                _ = GiveMemoryBackAsync();
        };
        Settings = new SettingsSource(Client, () => Profile, Workspace);
        Programs = new ProgramCache(new Host.FileLoader());
    }

    public Client Client { get; }

    public CurrentWorkspace Workspace { get; }

    public SettingsSource Settings { get; }

    public ProgramCache Programs { get; }

    /// <summary>Makes the reader of printed documents, given the pages of interest (empty for all); null where there is none.</summary>
    public Func<ImmutableHashSet<int>, IPrintedDocumentReader>? Documents { get; init; }

    /// <summary>Pictures of printed lines, for hovers.</summary>
    public PrintedLines PrintedLines => printedLines.Value;

    public ServerLog Log { get; }

    public TimeProvider Clock { get; }

    /// <summary>Ends with the session: for work that continues in the background.</summary>
    public CancellationToken Stopping { get; }

    /// <summary>What the client declared; that of a client that declares nothing until <c>initialize</c>.</summary>
    public ClientProfile Profile { get; private set; } = ClientProfile.From(null);

    public PositionMapper Positions { get; private set; } = new(Core.Text.ColumnEncoding.Utf16);

    /// <summary>
    /// Some time after a document was closed: memory that many or long ones took goes back to the system.
    /// </summary>
    private async Task GiveMemoryBackAsync()
    {
        const long worthwhile = 128 * 1024 * 1024;
        int turn = Interlocked.Increment(ref closed);
        try
        {
            await Task.Delay(TimeSpan.FromSeconds(2), Clock, Stopping).ConfigureAwait(false);
        }
        catch (OperationCanceledException)
        {
            return;
        }

        if (turn != Volatile.Read(ref closed))
            return;
        if (GC.GetTotalMemory(forceFullCollection: false) > worthwhile)
            GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
    }

    /// <summary>Takes over what <c>initialize</c> said.</summary>
    public void Learn(ClientProfile profile)
    {
        Profile = profile;
        Positions = new PositionMapper(profile.Encoding);
    }

    /// <summary>Takes the workspace as it is now, for a request that has just arrived.</summary>
    public RequestContext Capture() => new(this, Workspace.Current);
}

/// <summary>What a request works with: the session, and the workspace as it was when the request arrived.</summary>
internal readonly record struct RequestContext(ServerContext Server, WorkspaceSnapshot Snapshot)
{
    public ClientProfile Profile => Server.Profile;

    public PositionMapper Positions => Server.Positions;

    public Settings Settings => Snapshot.Settings;

    /// <summary>The programs as they were when the request arrived.</summary>
    public WorkspacePrograms Programs => Server.Programs.Of(Snapshot);

    /// <summary>The file that is meant, in its program; null where it is neither open nor on the disk.</summary>
    public DocumentView? View(Protocol.TextDocumentIdentifier document) =>
        Programs.Find(DocumentUri.Parse(document.Uri));

    /// <summary>The open HEX file that is meant, or null.</summary>
    public HexView? Hex(Protocol.TextDocumentIdentifier document) =>
        HexView.Find(Programs, DocumentUri.Parse(document.Uri));

    /// <summary>The open document that is meant, or null (a client may ask about one that it has just closed).</summary>
    public OpenDocument? Find(Protocol.TextDocumentIdentifier document) => Snapshot.Find(document.Uri);
}
