using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Tests;

public sealed class IncludeResolverTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Program_over_two_files_assembles()
    {
        folder.Write("DELAY.INC", "count equ 0x20\n");
        SourceFile root = Root(" include \"c:\\bench\\delay.inc\"\n movwf count\n end\n");
        ProgramAnalysis program = Assembler.Assemble(root, Resolver());
        // MOVWF f is 00 0000 1fff ffff (instruction set summary of the mid-range data sheets): 0x0080 + 0x20.
        Assert.Equal<ushort?>(0x00A0, program.Image.Memory[0]);
    }

    [Fact]
    public void Same_file_comes_back_as_the_same_object()
    {
        folder.Write("a.inc", "");
        IncludeResolver resolver = Resolver();
        SourceFile root = Root("");
        Assert.NotNull(resolver.Resolve("a.inc", root));
        Assert.Same(resolver.Resolve("a.inc", root), resolver.Resolve("A.INC", root));
    }

    [Fact]
    public void What_the_editor_holds_wins_over_the_disk()
    {
        string path = folder.Write("a.inc", "old");
        var held = new SourceFile(path, SourceText.From("new"));
        Assert.Same(held, Resolver(asked => asked == path ? held : null).Resolve("a.inc", Root("")));
    }

    [Fact]
    public void Unreadable_file_is_none_and_its_reason_is_kept()
    {
        string path = folder.Write("a.inc", [0, 1, 2]);
        IncludeResolver resolver = Resolver();
        Assert.Null(resolver.Resolve("a.inc", Root("")));
        Assert.Equal(LoadFailureKind.Binary, resolver.Failures[path].Kind);
    }

    [Theory]
    [InlineData("untitled:Untitled-1")]
    [InlineData("-")]
    public void Buffer_without_a_file_looks_into_the_workspace_only(string name)
    {
        string path = folder.Write("ws/a.inc", "");
        var resolver = new IncludeResolver(new IncludeSearch([folder["ws"]], [], DiskView.Instance), new FileLoader());
        Assert.Equal(path, resolver.Resolve("a.inc", new SourceFile(name, SourceText.From("")))?.Name);
    }

    private SourceFile Root(string text) => new(folder["main.asm"], SourceText.From(text));

    private static IncludeResolver Resolver(Func<string, SourceFile?>? open = null) =>
        new(new IncludeSearch([], [], DiskView.Instance), new FileLoader(), open);
}
