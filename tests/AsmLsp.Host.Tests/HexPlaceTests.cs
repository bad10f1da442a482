using AsmLsp.Core.Assembly;
using AsmLsp.Host.Building;

namespace AsmLsp.Host.Tests;

/// <summary>What a workspace says about where the HEX goes: it decides within itself, and overwrites nothing but HEX files of this program.</summary>
public sealed class HexPlaceTests : IDisposable
{
    private const string Source = " list p=16f84a\n __config 0x3ff1\n movwf 0x20\n end\n";

    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("../out.hex")]
    [InlineData("sub/../../out.hex")]
    [InlineData("ABSOLUTE")]
    public void Place_outside_the_workspace_is_refused(string output)
    {
        folder.Write("out.hex", "precious");
        BuildResult result = Build(output == "ABSOLUTE" ? folder["out.hex"] : output);
        Assert.Contains("outside the workspace", result.Refusal, StringComparison.Ordinal);
        Assert.Equal("precious", File.ReadAllText(folder["out.hex"]));
        Assert.Null(result.HexPath);
    }

    [Fact]
    public void Place_through_a_linked_folder_is_refused()
    {
        if (OperatingSystem.IsWindows())
            return;
        Directory.CreateDirectory(folder["private"]);
        Directory.CreateDirectory(folder["ws"]);
        File.CreateSymbolicLink(folder["ws/out"], folder["private"]);
        Assert.Contains("is a link", Build("out/kit.hex").Refusal, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(folder["private"]));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Hex_that_is_a_link_is_not_written_whether_it_leads_somewhere_or_not(bool exists)
    {
        if (OperatingSystem.IsWindows())
            return;
        Directory.CreateDirectory(folder["ws"]);
        if (exists)
            folder.Write("private.txt", "precious");
        File.CreateSymbolicLink(folder["ws/kit.hex"], folder["private.txt"]);
        Assert.Contains("is a link", Build(null).Refusal, StringComparison.Ordinal);
        Assert.Equal(exists, File.Exists(folder["private.txt"]));
        if (exists)
            Assert.Equal("precious", File.ReadAllText(folder["private.txt"]));
        Assert.Empty(Directory.GetFiles(folder["ws"], "*before*"));
    }

    [Fact]
    public void Configured_place_takes_no_file_that_is_not_a_hex_of_this_program()
    {
        folder.Write("ws/notes.txt", "precious");
        Assert.Contains("is not a HEX file from relist", Build("notes.txt").Refusal, StringComparison.Ordinal);
        Assert.Equal("precious", File.ReadAllText(folder["ws/notes.txt"]));
        Assert.Null(Build("built.hex").Refusal);
        Assert.Null(Build("built.hex").Refusal);
    }

    [Fact]
    public void Copy_of_what_was_there_keeps_its_permissions()
    {
        if (OperatingSystem.IsWindows())
            return;
        string hex = folder.Write("ws/kit.hex", "from elsewhere");
        const UnixFileMode Own = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        File.SetUnixFileMode(hex, Own);
        BuildResult result = Build(null);
        Assert.Null(result.Refusal);
        Assert.Equal(Own, File.GetUnixFileMode(result.KeptCopy!));
        Assert.Equal(Own, File.GetUnixFileMode(hex));
    }

    [Fact]
    public void Read_only_hex_gets_no_copy()
    {
        string hex = folder.Write("ws/kit.hex", "from elsewhere");
        File.SetAttributes(hex, FileAttributes.ReadOnly);
        Assert.Contains("read-only", Build(null).Refusal, StringComparison.Ordinal);
        Assert.Equal(["kit.asm", "kit.hex"], Directory.GetFiles(folder["ws"]).Select(Path.GetFileName).Order());
        File.SetAttributes(hex, FileAttributes.Normal);
    }

    [Fact]
    public void Long_name_is_built_and_its_copy_has_a_name_that_fits()
    {
        string name = new('k', 240);
        folder.Write($"ws/{name}.hex", "from elsewhere");
        BuildResult result = Build(null, name);
        Assert.Null(result.Refusal);
        Assert.Equal("from elsewhere", File.ReadAllText(result.KeptCopy!));
        Assert.Equal(3, Directory.GetFileSystemEntries(folder["ws"]).Length);
        Assert.Null(Build(null, new string('k', 251)).Refusal);
    }

    [Fact]
    public void Project_file_above_counts_only_where_it_is_named()
    {
        folder.Write("relist.json", "{ \"chip\": \"16F628A\", \"output\": \"above.hex\" }");
        string source = folder.Write("ws/kit.asm", " movwf 0x20\n end\n");
        (DiskProgram? disk, _) = DiskProgram.Load(source);
        Assert.Null(disk!.ProjectPath);
        Assert.Contains("does not count", Assert.Single(disk.Notes), StringComparison.Ordinal);
        (disk, _) = DiskProgram.Load(source, new DiskRequest { ProjectFile = folder["relist.json"] });
        Assert.Equal("PIC16F628A", disk!.Assemble().Device?.Name);
        Assert.Null(HexPlace.Of(source, disk.Project, disk.ProjectFolder, disk.Bounds).Refusal());
    }

    private BuildResult Build(string? output, string name = "kit")
    {
        string path = folder.Write($"ws/{name}.asm", Source);
        (DiskProgram? disk, _) = DiskProgram.Load(path);
        ProgramAnalysis program = disk!.Assemble();
        return ProgramBuilder.Build(
            program,
            [.. program.Problems],
            HexPlace.Of(path, new WorkspaceFile { Output = output }, folder["ws"], new WorkspaceBounds([folder["ws"]]))
        );
    }
}
