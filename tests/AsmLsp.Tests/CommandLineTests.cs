using AsmLsp.Verbs;

namespace AsmLsp.Tests;

public sealed class CommandLineTests
{
    [Fact]
    public void Every_verb_is_in_the_list_once()
    {
        string[] written = [.. typeof(IVerb).Assembly.GetTypes()
            .Where(type => type is { IsAbstract: false, IsInterface: false } && type.IsAssignableTo(typeof(IVerb)))
            .Select(type => type.Name).Order()];
        Assert.Equal(written, CommandLine.Verbs.Select(verb => verb.GetType().Name).Order());
        Assert.Equal(CommandLine.Verbs.Count, CommandLine.Verbs.DistinctBy(verb => verb.Create().Name).Count());
    }

    [Theory]
    [InlineData("--help")]
    [InlineData("--version")]
    [InlineData("serve", "--help")]
    public async Task Asking_for_help_or_version_ends_with_0_and_tells_it_on_standard_output(params string[] arguments)
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        string output = await relist.OutputAsync();
        Assert.Equal(0, (await relist.EndAsync()).Code);
        Assert.NotEqual("", output.Trim());
    }

    [Theory]
    [InlineData]
    [InlineData("unheard-of")]
    [InlineData("--unheard-of")]
    public async Task Command_line_that_makes_no_sense_ends_with_2_and_says_so_on_the_error_stream(params string[] arguments)
    {
        using RelistProcess relist = RelistProcess.Start(arguments);
        (int code, string errors) = await relist.EndAsync();
        Assert.Equal(2, code);
        Assert.NotEqual("", errors.Trim());
    }

    [Fact]
    public async Task Version_is_that_of_the_build()
    {
        using RelistProcess relist = RelistProcess.Start("--version");
        Assert.Matches(@"^\d+\.\d+\.\d+$", (await relist.OutputAsync()).Trim());
        await relist.EndAsync();
    }
}
