using System.Collections.Concurrent;
using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Text;
using AsmLsp.Host.Archive;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Pictures;

/// <summary>The picture of a printed line as a file that an editor can show.</summary>
/// <param name="Path">The file.</param>
/// <param name="Place">What it shows, in words.</param>
public readonly record struct CachedPicture(string Path, string Place);

/// <summary>
/// Pictures of printed lines for editors: each is drawn when it is asked for, and kept in a bounded folder of the account. Documents are read and drawn one
/// at a time.
/// </summary>
/// <param name="folder">The folder, of which nothing else makes use.</param>
/// <param name="reader">Makes a reader for some pages of a document.</param>
/// <param name="tools">The programs; null looks for them.</param>
public sealed class PictureCache(
    string folder,
    Func<ImmutableHashSet<int>, IPrintedDocumentReader> reader,
    ScanTools? tools = null
) : IDisposable
{
    // What is kept on the disk, and of that what is left when it is too much.
    private const int MostFiles = 400,
        LeftFiles = 300;

    // Larger documents are for the review page.
    private const int MostBytes = 64 * 1024 * 1024;

    private const int MostDocuments = 3;

    private readonly SemaphoreSlim one = new(1);
    private readonly ConcurrentDictionary<
        (string Path, string Origin, long Changed),
        Task<ImmutableArray<CachedPicture>>
    > asked = new();

    // The documents read last, the newest first; only touched by the one that works.
    private readonly List<ReadDocument> documents = [];

    /// <summary>Keeps a document that was read already.</summary>
    /// <param name="path">Its file.</param>
    /// <param name="bytes">What was read of it.</param>
    /// <param name="print">Its lines.</param>
    public async Task RememberAsync(string path, ReadOnlyMemory<byte> bytes, PrintedDocument print)
    {
        await one.WaitAsync().ConfigureAwait(false);
        try
        {
            Keep(new ReadDocument(path, Checksums.Of(bytes.Span), print));
        }
        finally
        {
            one.Release();
        }
    }

    /// <summary>The pictures of the lines at some places of a document; none where they cannot be drawn. Work that was begun continues when nobody waits.</summary>
    /// <param name="document">The full path of the document.</param>
    /// <param name="origin">The places.</param>
    /// <param name="stop">Ends the work for good, with the session.</param>
    public Task<ImmutableArray<CachedPicture>> PicturesAsync(string document, LineOrigin origin, CancellationToken stop)
    {
        ArgumentNullException.ThrowIfNull(origin);
        if (asked.Count > MostFiles)
            asked.Clear();
        return asked.GetOrAdd(
            (document, origin.ToString(), Changed(document)),
            key => Task.Run(() => MakeAsync(key.Path, origin, stop), stop)
        );
    }

    /// <inheritdoc/>
    public void Dispose() => one.Dispose();

    private static long Changed(string path)
    {
        try
        {
            var file = new FileInfo(path);
            return file.LastWriteTimeUtc.Ticks ^ file.Length;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return 0;
        }
    }

    private async Task<ImmutableArray<CachedPicture>> MakeAsync(string path, LineOrigin origin, CancellationToken stop)
    {
        await one.WaitAsync(stop).ConfigureAwait(false);
        try
        {
            return Make(path, origin, stop);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return [];
        }
        finally
        {
            one.Release();
        }
    }

    private ImmutableArray<CachedPicture> Make(string path, LineOrigin origin, CancellationToken stop)
    {
        if (FileLoader.ReadBytes(path, MostBytes, out byte[] bytes) is not null)
            return [];
        string sum = Checksums.Of(bytes);
        if (Read(path, bytes, sum, [.. origin.Places.Select(static p => p.Page)], stop) is not { } print)
            return [];
        ImmutableArray<PrintedArea> areas = PrintedArea.Of(
            origin,
            p =>
                print
                    .Pages.FirstOrDefault(page => page.Number == p.Page)
                    ?.Lines.FirstOrDefault(line => line.Number == p.Line)
        );
        var made = ImmutableArray.CreateBuilder<CachedPicture>();
        PageRenderer? renderer = null;
        try
        {
            foreach (IGrouping<int, PrintedArea> page in areas.GroupBy(static a => a.Page))
            {
                DrawnPage? drawn = null;
                foreach (PrintedArea area in page)
                {
                    string file = Path.Combine(folder, $"{sum[..24]}-{area.Name}.png");
                    if (!File.Exists(file))
                    {
                        renderer ??= PageRenderer.Open(
                            bytes,
                            tools ?? ScanTools.Find(),
                            PictureLimits.Hover,
                            stop,
                            out _
                        );
                        PrintedPage whole = print.Pages.First(p => p.Number == page.Key);
                        drawn ??= renderer?.Draw(whole) is { } picture ? new DrawnPage(whole, picture) : null;
                        if (drawn?.Cut(area) is not { } cut || !Write(file, cut.Picture.Png))
                            continue;
                    }

                    made.Add(new CachedPicture(file, area.Place));
                }
            }
        }
        finally
        {
            renderer?.Dispose();
        }

        return made.ToImmutable();
    }

    private PrintedDocument? Read(
        string path,
        byte[] bytes,
        string sum,
        ImmutableHashSet<int> pages,
        CancellationToken stop
    )
    {
        ReadDocument? known = documents.Find(d =>
            d.Path == path && d.Sum == sum && pages.All(n => d.Print.Pages.Any(p => p.Number == n && !p.Lines.IsEmpty))
        );
        if (known is not null)
        {
            Keep(known);
            return known.Print;
        }

        // Of scans only the page in question is read: recognition takes its time.
        if (!reader(pages).Read(bytes, stop).TryGet(out PrintedDocument? print, out _))
            return null;
        Keep(new ReadDocument(path, sum, print));
        return print;
    }

    private void Keep(ReadDocument document)
    {
        documents.Remove(document);
        documents.Insert(0, document);
        if (documents.Count > MostDocuments)
            documents.RemoveAt(MostDocuments);
    }

    private bool Write(string file, byte[] content)
    {
        // What strangers printed is nobody else's business.
        if (OperatingSystem.IsWindows())
            Directory.CreateDirectory(folder);
        else
            Directory.CreateDirectory(
                folder,
                UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute
            );
        FileInfo[] there = new DirectoryInfo(folder).GetFiles("*.png");
        if (there.Length >= MostFiles)
            foreach (FileInfo old in there.OrderBy(static f => f.LastWriteTimeUtc).Take(there.Length - LeftFiles))
                old.Delete();
        return AtomicWriter.Write(file, content, followsLinks: false) is null;
    }

    private sealed record ReadDocument(string Path, string Sum, PrintedDocument Print);
}
