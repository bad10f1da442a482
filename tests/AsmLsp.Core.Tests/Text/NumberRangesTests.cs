using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Text;

public class NumberRangesTests
{
    [Theory]
    [InlineData("", new int[0])]
    [InlineData("7", new[] { 7 })]
    [InlineData("1, 2", new[] { 2, 1 })]
    [InlineData("1-3", new[] { 1, 2, 3, 2 })]
    [InlineData("1-3, 5, 7, 8, 10-13", new[] { 13, 12, 11, 10, 8, 7, 5, 3, 2, 1 })]
    [InlineData("2147483646, 2147483647", new[] { int.MaxValue, int.MaxValue - 1 })]
    public void Three_and_more_in_a_row_are_a_range(string text, int[] numbers) =>
        Assert.Equal(text, NumberRanges.Of(numbers));
}
