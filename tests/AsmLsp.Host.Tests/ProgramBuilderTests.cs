using AsmLsp.Host.Building;

namespace AsmLsp.Host.Tests;

public sealed class ProgramBuilderTests : IDisposable
{
    // The same words as the source below gives, as another program might write them: no address record in front, LF, two records.
    // ':02000000A000..': count 2, address 0, type 0, word 0x00A0 low byte first; check byte 0x100 - (0x02 + 0xA0) = 0x5E.
    // ':02000200A100..': 0x100 - (0x02 + 0x02 + 0xA1) = 0x5B. Intel's Hexadecimal Object File Format Specification, Revision A, 1988.
    private const string Foreign = ":02000000A0005E\n:02000200A1005B\n:00000001FF\n";

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void A_hex_of_another_s_making_is_kept_beside()
    {
        string hex = folder.Write("kit.hex", Foreign);
        BuildResult result = Build(" movwf 0x20\n movwf 0x21\n end\n");
        Assert.Equal(folder["kit.before.hex"], result.KeptCopy);
        Assert.Equal(Foreign, File.ReadAllText(folder["kit.before.hex"]));
        Assert.NotEqual(Foreign, File.ReadAllText(hex));
        Assert.Equal("kit.hex was there before and is not from relist; it is kept as kit.before.hex.", result.KeptNote);
    }

    [Fact]
    public void An_own_hex_is_written_over()
    {
        Build(" movwf 0x20\n end\n");
        BuildResult second = Build(" movwf 0x22\n end\n");
        Assert.Null(second.KeptCopy);
        Assert.Null(second.KeptNote);
        Assert.Equal(["kit.hex"], Names());
        // MOVWF 0x22 is 0x00A2 (00 0000 1fff ffff, instruction set summary of the mid-range data sheets), low byte first.
        Assert.Contains(":02000000A2005C", File.ReadAllText(folder["kit.hex"]), StringComparison.Ordinal);
    }

    [Fact]
    public void Copies_of_two_different_files_do_not_meet()
    {
        folder.Write("kit.before.hex", "an older one");
        folder.Write("kit.hex", Foreign);
        Assert.Equal(folder["kit.before-2.hex"], Build(" movwf 0x20\n end\n").KeptCopy);
        Assert.Equal("an older one", File.ReadAllText(folder["kit.before.hex"]));
    }

    [Fact]
    public void A_copy_that_is_there_is_not_made_again()
    {
        folder.Write("kit.before.hex", Foreign);
        folder.Write("kit.hex", Foreign);
        Assert.Null(Build(" movwf 0x20\n end\n").KeptCopy);
        Assert.Equal(["kit.before.hex", "kit.hex"], Names());
    }

    [Fact]
    public void A_file_that_the_person_named_is_theirs_to_write_over()
    {
        folder.Write("kit.hex", Foreign);
        Assert.Null(Build(" movwf 0x20\n end\n", isNamed: true).KeptCopy);
        Assert.Equal(["kit.hex"], Names());
    }

    [Fact]
    public void A_refused_build_touches_nothing()
    {
        folder.Write("kit.hex", Foreign);
        BuildResult result = Build(" movwf nowhere\n end\n");
        Assert.NotNull(result.Refusal);
        Assert.Null(result.KeptNote);
        Assert.Equal(Foreign, File.ReadAllText(folder["kit.hex"]));
        Assert.Equal(["kit.hex"], Names());
    }

    private BuildResult Build(string source, bool isNamed = false)
    {
        string path = folder.Write("source/kit.asm", source);
        (DiskProgram? disk, _) = DiskProgram.Load(path, new DiskRequest { Chip = "16F84A" });
        var program = disk!.Assemble();
        return ProgramBuilder.Build(
            program,
            [.. program.Problems],
            isNamed
                ? HexPlace.Named(folder["kit.hex"])
                : new HexPlace(folder["kit.hex"], HexPlaceKind.Beside, new WorkspaceBounds([folder.Path]))
        );
    }

    private string[] Names() =>
        [.. Directory.EnumerateFiles(folder.Path).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)];
}
