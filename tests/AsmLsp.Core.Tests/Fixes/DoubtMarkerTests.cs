using AsmLsp.Core.Fixes;

namespace AsmLsp.Core.Tests.Fixes;

public class DoubtMarkerTests
{
    [Theory]
    [InlineData(" movlw 5 ;? was S", "was S")]
    [InlineData(" movlw 5 ; five ;? was S", "was S")]
    [InlineData(" movlw 5 ; why; not", null)]
    [InlineData(" dt \";?\"", null)]
    [InlineData(" dt \";?\" ;? quote", "quote")]
    [InlineData(" nop ;?", "")]
    public void Mark_is_found_in_comments_only(string line, string? words) => Assert.Equal(words, DoubtMarker.WordsOf(line));

    [Theory]
    [InlineData(" movlw 5")]
    [InlineData(" movlw 5 ; five")]
    [InlineData("; alone")]
    public void Mark_comes_off_again_as_it_was_put_on(string line)
    {
        string marked = DoubtMarker.Add(line, "was S");
        Assert.Equal("was S", DoubtMarker.WordsOf(marked));
        Assert.Equal(line, DoubtMarker.Remove(marked));
    }
}
