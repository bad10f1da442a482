using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Text;

public sealed class VisibleTextTests
{
    [Theory]
    [InlineData(
        "plain, äöü €, tab\there\nand \r\n lines \U0001F600",
        "plain, äöü €, tab\there\nand \r\n lines \U0001F600"
    )]
    [InlineData("\u001b[2J", "⟨U+001B⟩[2J")]
    [InlineData("a\u009bb", "a⟨U+009B⟩b")]
    [InlineData("a\u202eb\u2069", "a⟨U+202E⟩b⟨U+2069⟩")]
    [InlineData("over\rwritten", "over⟨U+000D⟩written")]
    [InlineData("\0\b\u007f", "⟨U+0000⟩⟨U+0008⟩⟨U+007F⟩")]
    public void Hidden_characters_are_shown_by_their_numbers_and_nothing_else_changes(string text, string shown) =>
        Assert.Equal(shown, VisibleText.Of(text));

    [Fact]
    public void Half_of_a_pair_is_shown_by_its_number() => Assert.Equal("x⟨U+D83D⟩y", VisibleText.Of("x\ud83dy"));

    [Fact]
    public void Json_means_the_same_afterwards()
    {
        const string Json = "{\"a\":\"x\u202ey\"}";
        Assert.Equal("{\"a\":\"x\\u202Ey\"}", VisibleText.InJson(Json));
    }
}
