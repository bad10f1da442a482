namespace AsmLsp.Host.Tests;

public sealed class IncludeSearchTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("lcd.inc")]
    [InlineData(" lcd.inc ")]
    [InlineData("\"lcd.inc\"")]
    [InlineData("<lcd.inc>")]
    [InlineData("<lcd.inc> left over")]
    [InlineData("LCD.INC")]
    [InlineData(@"..\lib\lcd.inc")]
    [InlineData("../lib/lcd.inc")]
    [InlineData(@"C:\BENCH\PIC\LCD.INC")]
    [InlineData("/home/somebody/pic/lcd.inc")]
    public void Name_in_any_dress_finds_the_file_beside(string written)
    {
        string file = folder.Write("src/lcd.inc", "");
        Assert.Equal(file, Find("src/main.asm", written));
    }

    [Fact]
    public void Name_with_a_folder_finds_that_one_and_not_the_one_beside()
    {
        folder.Write("src/lcd.inc", "");
        string file = folder.Write("lib/lcd.inc", "");
        Assert.Equal(file, Find("src/main.asm", @"..\lib\lcd.inc"));
        Assert.Equal(file, Find("src/main.asm", @"..\LIB\LCD.inc"));
    }

    [Fact]
    public void File_beside_comes_before_workspace_and_that_before_configured_folders()
    {
        string beside = folder.Write("src/a.inc", "");
        string workspace = folder.Write("ws/a.inc", "");
        string configured = folder.Write("inc/a.inc", "");
        var search = new IncludeSearch([folder["ws"]], [folder["inc"]], DiskView.Instance);
        Assert.Equal(beside, search.Find(folder["src/main.asm"], "a.inc"));
        File.Delete(beside);
        Assert.Equal(workspace, search.Find(folder["src/main.asm"], "a.inc"));
        File.Delete(workspace);
        Assert.Equal(configured, search.Find(folder["src/main.asm"], @"d:\x\A.INC"));
        File.Delete(configured);
        Assert.Null(search.Find(folder["src/main.asm"], "a.inc"));
    }

    [Fact]
    public void Exact_case_wins_over_another_case()
    {
        if (OperatingSystem.IsLinux())
        {
            folder.Write("src/A.INC", "");
            string exact = folder.Write("src/a.inc", "");
            Assert.Equal(exact, Find("src/main.asm", "a.inc"));
        }
    }

    [Fact]
    public void Folder_or_device_of_that_name_is_no_include()
    {
        Directory.CreateDirectory(folder["src/a.inc"]);
        Assert.Null(Find("src/main.asm", "a.inc"));
        if (!OperatingSystem.IsWindows())
        {
            Assert.Null(Find("src/main.asm", "/dev/zero"));
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("<>")]
    [InlineData("\"\"")]
    [InlineData("..")]
    [InlineData("/")]
    public void Name_that_is_none_finds_nothing(string written) => Assert.Null(Find("main.asm", written));

    private string? Find(string from, string written) =>
        new IncludeSearch([], [], DiskView.Instance).Find(folder[from], written);
}
