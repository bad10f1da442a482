using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Tests;

public sealed class WorkspaceFilesTests
{
    [Theory]
    [InlineData("lcd.inc")]
    [InlineData("LCD.INC")]
    [InlineData(@"a:\LCD.inc")]
    public void Include_that_was_never_saved_is_found_in_the_editor(string written)
    {
        string folder = Path.Combine(Path.GetTempPath(), $"relist-none-{Guid.NewGuid():N}");
        var workspace = new CurrentWorkspace(_ => { });
        string path = Path.Combine(folder, "lcd.inc");
        workspace.Open(new TextDocumentItem(DocumentUri.FromPath(path).Text, "asm", 1, "text"));
        var files = WorkspaceFiles.Of(workspace.Current, new DiskSources(new FileLoader()), null);
        SourceFile? found = new RecordedIncludes(files, Project.None).Resolve(
            written,
            new SourceFile(Path.Combine(folder, "main.asm"), SourceText.From(""))
        );
        Assert.Equal("text", found?.Text.ToString());
        Assert.Equal(path, found?.Name);
    }

    [Theory]
    [InlineData("/bench/a b/mü#1%.asm")]
    [InlineData("/bench/plain.asm")]
    public void Path_comes_back_from_its_address(string path)
    {
        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(path, DocumentUri.FromPath(path).Path);
        }
    }

    [Fact]
    public void Address_of_no_file_has_no_path() => Assert.Null(DocumentUri.Parse("untitled:Untitled-1").Path);
}
