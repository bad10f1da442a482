namespace AsmLsp.Host.Tests;

public sealed class OutputCheckTests : IDisposable
{
    private readonly TempFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Other_files_may_be_written()
    {
        folder.Write("a.asm", "");
        Assert.Null(
            new OutputCheck()
                .Reads(folder["a.asm"])
                .Writes("-o", folder["a.hex"])
                .Writes("--words", folder["a.map"])
                .Writes("--report", null)
                .Refusal
        );
    }

    [Theory]
    [InlineData("a.asm")]
    [InlineData("./a.asm")]
    [InlineData("sub/../a.asm")]
    [InlineData("link.asm")]
    [InlineData("hard.asm")]
    [InlineData("linked/a.asm")]
    public void Input_is_known_by_what_it_is(string output)
    {
        if (OperatingSystem.IsWindows())
            return;
        folder.Write("a.asm", "text");
        folder.Write("sub/b.asm", "");
        File.CreateSymbolicLink(folder["link.asm"], folder["a.asm"]);
        File.CreateSymbolicLink(folder["linked"], folder.Path);
        using (var made = System.Diagnostics.Process.Start("ln", [folder["a.asm"], folder["hard.asm"]]))
            made.WaitForExit();
        string? refusal = new OutputCheck().Reads(folder["a.asm"]).Writes("-o", folder[output]).Refusal;
        Assert.Contains("-o would overwrite a.asm", refusal, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_outputs_of_one_name_are_refused_whether_it_exists_or_not()
    {
        Directory.CreateDirectory(folder["sub"]);
        Assert.NotNull(new OutputCheck().Writes("-o", folder["new"]).Writes("--words", folder["sub/../new"]).Refusal);
        File.CreateSymbolicLink(folder["to-new"], folder["new"]);
        Assert.NotNull(new OutputCheck().Writes("-o", folder["new"]).Writes("--words", folder["to-new"]).Refusal);
    }

    [Fact]
    public void Link_in_a_circle_harms_nothing()
    {
        File.CreateSymbolicLink(folder["one"], folder["two"]);
        File.CreateSymbolicLink(folder["two"], folder["one"]);
        Assert.Null(new OutputCheck().Reads(folder["one"]).Writes("-o", folder["two"]).Refusal);
        Assert.NotNull(AtomicWriter.Write(folder["one"], "x"u8));
    }
}
