namespace AsmLsp.Tests;

/// <summary>A HEX file to source and back through the executable; the records are worked out after Intel's specification of 1988.</summary>
public sealed class DisassembleVerbTests : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("relist-disassemble");

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public async Task A_file_comes_back_byte_for_byte_from_its_source()
    {
        // goto 1; movlw 5; goto 1; configuration 0x3FF1; EEPROM 3.
        string hex = ":06000000012805300128" + "73\r\n:02400E00F13F80\r\n:024200000300B9\r\n:00000001FF\r\n";
        (int code, string errors) = await RunAsync(hex);
        Assert.Equal((0, $"Written: {InFolder("made.asm")}\n"), (code, errors));
        using RelistProcess build = RelistProcess.Start("build", InFolder("made.asm"), "-o", InFolder("again.hex"));
        (int built, string summary) = await build.EndAsync();
        Assert.True(built == 0, summary);
        Assert.Equal(hex, await File.ReadAllTextAsync(InFolder("again.hex")));
    }

    [Fact]
    public async Task Words_that_no_source_can_give_end_with_1_and_are_reported()
    {
        // The same program with the device ID word 0x1066 at 0x2006, as read-outs have it.
        (int code, string errors) = await RunAsync(
            ":06000000012805300128" + "73\r\n:02400C0066103C\r\n:00000001FF\r\n"
        );
        Assert.Equal(1, code);
        Assert.Contains("0x2006", errors, StringComparison.Ordinal);
        Assert.Contains(
            "; 0x2006: 0x1066",
            await File.ReadAllTextAsync(InFolder("made.asm")),
            StringComparison.Ordinal
        );
    }

    private async Task<(int Code, string Errors)> RunAsync(string hex)
    {
        await File.WriteAllTextAsync(InFolder("read.hex"), hex);
        using RelistProcess relist = RelistProcess.Start(
            "disassemble",
            InFolder("read.hex"),
            "--chip",
            "16F84A",
            "-o",
            InFolder("made.asm")
        );
        return await relist.EndAsync();
    }

    private string InFolder(string name) => Path.Combine(folder.FullName, name);
}
