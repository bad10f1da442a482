namespace AsmLsp.Host.Tests;

public sealed class AtomicWriterTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void New_file_is_written_and_nothing_else_remains()
    {
        Assert.Null(AtomicWriter.Write(folder["a.hex"], ":00000001FF\r\n"u8));
        Assert.Equal(":00000001FF\r\n", File.ReadAllText(folder["a.hex"]));
        Assert.Equal([folder["a.hex"]], Directory.GetFileSystemEntries(folder.Path));
    }

    [Fact]
    public void Old_file_is_replaced_and_keeps_its_permissions()
    {
        string path = folder.Write("a.hex", "old");
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.OtherWrite);
        }

        Assert.Null(AtomicWriter.Write(path, "new"u8));
        Assert.Equal("new", File.ReadAllText(path));
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(
                UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.OtherWrite,
                File.GetUnixFileMode(path)
            );
        }
    }

    [Fact]
    public void Folder_that_is_gone_is_reported_and_not_made_again()
    {
        string? reason = AtomicWriter.Write(folder["gone/a.hex"], "x"u8);
        Assert.Contains("folder does not exist", reason, StringComparison.Ordinal);
        Assert.False(Directory.Exists(folder["gone"]));
    }

    [Fact]
    public void Failure_leaves_the_old_file_and_no_temporary_one()
    {
        string path = folder.Write("a.hex", "old");
        File.SetAttributes(path, FileAttributes.ReadOnly);
        try
        {
            Assert.NotNull(AtomicWriter.Write(path, "new"u8));
            Assert.Equal("old", File.ReadAllText(path));
            Assert.Equal([path], Directory.GetFileSystemEntries(folder.Path));
        }
        finally
        {
            File.SetAttributes(path, FileAttributes.Normal);
        }
    }

    [Fact]
    public void Folder_and_device_are_not_written_over()
    {
        Assert.NotNull(AtomicWriter.Write(folder.Path, "x"u8));
        if (!OperatingSystem.IsWindows())
        {
            Assert.NotNull(AtomicWriter.Write("/dev/null", "x"u8));
            Assert.Equal(FileKind.Special, FileKinds.Of("/dev/null"));
        }
    }

    [Fact]
    public void Link_stays_a_link_and_what_it_leads_to_is_written()
    {
        if (!OperatingSystem.IsWindows())
        {
            folder.Write("real.hex", "old");
            File.CreateSymbolicLink(folder["link.hex"], folder["real.hex"]);
            Assert.Null(AtomicWriter.Write(folder["link.hex"], "new"u8));
            Assert.NotNull(new FileInfo(folder["link.hex"]).LinkTarget);
            Assert.Equal("new", File.ReadAllText(folder["real.hex"]));
        }
    }

    [Fact]
    public async Task Reader_sees_the_old_or_the_new_content_whole()
    {
        string path = folder.Write("a.hex", new string('0', 100_000));
        using var done = new CancellationTokenSource();
        Task reader = Task.Run(() =>
        {
            while (!done.IsCancellationRequested)
            {
                string seen = File.ReadAllText(path);
                Assert.Equal(100_000, seen.Length);
                Assert.Equal(seen.Length, seen.Count(c => c == seen[0]));
            }
        });
        for (int i = 1; i <= 50; i++)
        {
            Assert.Null(
                AtomicWriter.Write(
                    path,
                    System.Text.Encoding.ASCII.GetBytes(new string((char)('0' + (i % 10)), 100_000))
                )
            );
        }

        await done.CancelAsync();
        await reader;
    }

    [Fact]
    public void What_a_killed_run_left_is_removed_by_the_next_for_the_same_file_and_nothing_else_is()
    {
        string path = folder.Write("a.hex", "old");
        string own = Path.GetFileName(TemporaryNames.For(path));
        // No process has this number: the largest on Linux is 4,194,304 (proc(5), pid_max).
        string left = folder.Write(
            own.Replace($"-{Environment.ProcessId}-", "-2000000000-", StringComparison.Ordinal),
            "half"
        );
        string ofAnother = folder.Write(
            Path.GetFileName(TemporaryNames.For(folder["b.hex"]))
                .Replace($"-{Environment.ProcessId}-", "-2000000000-", StringComparison.Ordinal),
            "half"
        );
        string running = folder.Write(
            own.Replace($"-{Environment.ProcessId}-", "-1-", StringComparison.Ordinal),
            "being written"
        );
        Assert.Null(AtomicWriter.Write(path, "new"u8));
        Assert.False(File.Exists(left));
        Assert.True(File.Exists(ofAnother));
        Assert.True(File.Exists(running));
    }

    [Fact]
    public void Name_as_long_as_the_disk_allows_is_written()
    {
        string path = folder[new string('n', 251) + ".hex"];
        Assert.Null(AtomicWriter.Write(path, "new"u8));
        Assert.Equal("new", File.ReadAllText(path));
    }
}
