using System.Diagnostics;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Tests;

public sealed class FileLoaderTests : IDisposable
{
    private readonly TempFolder folder = new();
    private readonly FileLoader loader = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Utf8_is_read_without_a_note()
    {
        LoadedFile file = Loaded(folder.Write("a.asm", "; 10 µs\r\n nop\r\n"));
        Assert.Equal("; 10 µs\r\n nop\r\n", file.Text.ToString());
        Assert.Same(TextEncoding.Utf8, file.Text.Encoding);
        Assert.Null(file.Note);
    }

    [Fact]
    public void Byte_order_mark_is_no_part_of_the_text_and_comes_back_on_writing()
    {
        byte[] bytes = [0xEF, 0xBB, 0xBF, (byte)' ', (byte)'n', (byte)'o', (byte)'p'];
        LoadedFile file = Loaded(folder.Write("a.asm", bytes));
        Assert.Equal(" nop", file.Text.ToString());
        Assert.Equal(bytes, file.Text.Encoding.GetBytes(file.Text.ToString()));
    }

    [Fact]
    public void Utf16_is_known_by_its_mark()
    {
        Assert.Equal(
            " nop",
            Loaded(folder.Write("a.asm", [0xFF, 0xFE, (byte)' ', 0, (byte)'n', 0, (byte)'o', 0, (byte)'p', 0]))
                .Text.ToString()
        );
    }

    // The bytes of " nop\n nop\n" in UTF-16 (RFC 2781), low and high byte first.
    [Theory]
    [InlineData(1, 0)]
    [InlineData(0, 1)]
    public void Utf16_without_a_mark_is_known_by_its_zeros_and_written_as_it_was(int low, int high)
    {
        const string text = " nop\n nop\n";
        byte[] bytes = [.. text.SelectMany(c => low > high ? (byte[])[(byte)c, 0] : [0, (byte)c])];
        LoadedFile file = Loaded(folder.Write("a.asm", bytes));
        Assert.Equal(text, file.Text.ToString());
        Assert.Equal(bytes, file.Text.Encoding.GetBytes(text));
    }

    [Fact]
    public void Bytes_that_are_no_utf8_are_read_as_Windows_1252_and_that_is_reported_once()
    {
        // 0xB5 is the micro sign in Windows-1252 (Unicode's own mapping table CP1252.TXT).
        string path = folder.Write("a.asm", [(byte)';', 0xB5, (byte)'s']);
        LoadedFile first = Loaded(path);
        Assert.Equal(";µs", first.Text.ToString());
        Assert.Contains("Windows-1252", first.Note, StringComparison.Ordinal);
        Assert.Null(Loaded(path).Note);
    }

    [Fact]
    public void Empty_file_is_an_empty_text() => Assert.Equal("", Loaded(folder.Write("a.asm", "")).Text.ToString());

    [Fact]
    public void Missing_file_is_reported_by_its_name()
    {
        LoadFailure failure = Failed(folder["gone.asm"]);
        Assert.Equal(LoadFailureKind.Missing, failure.Kind);
        Assert.Contains("gone.asm", failure.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Folder_is_no_file() => Assert.Equal(LoadFailureKind.Folder, Failed(folder.Path).Kind);

    [Fact]
    public void Zero_bytes_make_a_binary_file() =>
        Assert.Equal(
            LoadFailureKind.Binary,
            Failed(folder.Write("a.bin", [0x7F, (byte)'E', (byte)'L', (byte)'F', 0, 1, 2])).Kind
        );

    [Fact]
    public void File_past_the_limit_is_refused_and_one_at_the_limit_is_read()
    {
        byte[] bytes = new byte[FileLoader.MaxLength];
        Array.Fill(bytes, (byte)' ');
        string path = folder.Write("big.asm", bytes);
        Assert.Equal(FileLoader.MaxLength, Loaded(path).Text.Length);
        File.AppendAllText(path, " ");
        Assert.Equal(LoadFailureKind.TooLarge, Failed(path).Kind);
    }

    [Fact]
    public void Device_is_refused_without_being_read()
    {
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(LoadFailureKind.NotRegular, Failed("/dev/zero").Kind);
            Assert.Equal(LoadFailureKind.NotRegular, Failed("/dev/null").Kind);
        }
    }

    [Fact]
    public void Named_pipe_is_refused_without_waiting_for_its_writer()
    {
        if (!OperatingSystem.IsWindows())
        {
            using Process made = Process.Start("mkfifo", folder["pipe"]);
            made.WaitForExit();
            Assert.Equal(0, made.ExitCode);
            Assert.Equal(LoadFailureKind.NotRegular, Failed(folder["pipe"]).Kind);
        }
    }

    [Fact]
    public void Link_to_a_file_is_read_and_a_link_to_a_device_is_not()
    {
        if (!OperatingSystem.IsWindows())
        {
            folder.Write("real.asm", " nop");
            File.CreateSymbolicLink(folder["link.asm"], folder["real.asm"]);
            File.CreateSymbolicLink(folder["zero.asm"], "/dev/zero");
            Assert.Equal(" nop", Loaded(folder["link.asm"]).Text.ToString());
            Assert.Equal(LoadFailureKind.NotRegular, Failed(folder["zero.asm"]).Kind);
        }
    }

    private LoadedFile Loaded(string path)
    {
        Assert.True(loader.Load(path).TryGet(out LoadedFile? file, out LoadFailure? failure), failure?.Message);
        return file;
    }

    private LoadFailure Failed(string path)
    {
        Assert.False(loader.Load(path).TryGet(out _, out LoadFailure? failure));
        return failure!;
    }
}
