using System.Text;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Text;

public class SourceTextTests
{
    private static readonly Gen<string> Messy = Gen.OneOf(
            Gen.Const("\r"),
            Gen.Const("\n"),
            Gen.Const("\r\n"),
            Gen.String[0, 6],
            Gen.Const("é😀x")
        )
        .List[0, 40]
        .Select(string.Concat);

    [Fact]
    public void Text_is_the_sum_of_its_lines() => Messy.Draw(text => SourceText.From(text).ToString() == text);

    [Fact]
    public void An_edit_gives_the_text_that_a_plain_string_edit_gives() =>
        Gen.Select(Messy, Gen.Int[0, 1000], Gen.Int[0, 1000], Messy)
            .Draw(
                (text, a, b, inserted) =>
                {
                    int start = Math.Min(a, b) % (text.Length + 1);
                    int end = start + Math.Max(a, b) % (text.Length - start + 1);
                    SourceText edited = SourceText.From(text).WithChange(TextSpan.FromBounds(start, end), inserted);
                    SourceText expected = SourceText.From(text[..start] + inserted + text[end..]);
                    return edited.ToString() == expected.ToString()
                        && edited
                            .Lines.Select(l => l.Text + l.Ending)
                            .SequenceEqual(expected.Lines.Select(l => l.Text + l.Ending));
                },
                iter: 3000
            );

    [Fact]
    public void Places_and_offsets_lead_back_to_each_other() =>
        Messy
            .Where(t => t.Length > 0)
            .Draw(text =>
            {
                SourceText source = SourceText.From(text);
                for (int offset = 0; offset <= text.Length; offset++)
                {
                    LinePosition place = source.PositionAt(offset);
                    if (source.LineStart(place.Line) + place.Column != offset)
                        return false;
                }

                return true;
            });

    [Fact]
    public void Lines_that_an_edit_does_not_touch_stay_the_same_objects()
    {
        SourceText text = SourceText.From(string.Concat(Enumerable.Range(0, 2000).Select(i => $" nop ; {i}\n")));
        SourceText edited = text.WithChange(new TextSpan(text.LineStart(1000) + 1, 3), "goto");
        Assert.All(Enumerable.Range(0, 2001).Where(i => i != 1000), i => Assert.Same(text[i], edited[i]));
        Assert.Equal(" goto ; 1000", edited[1000].Text);
    }

    [Fact]
    public void Places_outside_move_to_the_nearest_inside()
    {
        SourceText text = SourceText.From("ab\ncd");
        Assert.Equal(0, text.OffsetAt(new LinePosition(-3, 5)));
        Assert.Equal(2, text.OffsetAt(new LinePosition(0, 99)));
        Assert.Equal(5, text.OffsetAt(new LinePosition(9, 0)));
    }

    [Fact]
    public void Every_byte_sequence_is_read_and_written_back_the_same() =>
        Gen
            .Byte.Array[0, 60]
            .Draw(
                bytes =>
                {
                    (string text, TextEncoding encoding) = TextEncoding.Decode(bytes);
                    return encoding.GetBytes(text).AsSpan().SequenceEqual(bytes);
                },
                iter: 5000
            );

    [Theory]
    [InlineData(new byte[] { 0xE9, 0x20, 0x94 }, "é ”")] // Windows-1252: 0xE9 e acute, 0x94 right double quotation mark
    [InlineData(new byte[] { 0xEF, 0xBB, 0xBF, 0x41 }, "A")]
    [InlineData(new byte[] { 0xFF, 0xFE, 0x41, 0x00 }, "A")]
    public void Bytes_are_read_by_their_own_encoding(byte[] bytes, string expected) =>
        Assert.Equal(expected, TextEncoding.Decode(bytes).Text);

    [Fact]
    public void Windows_1252_agrees_with_the_code_page_of_the_platform_library()
    {
        Encoding.RegisterProvider(CodePagesEncodingProvider.Instance);
        byte[] all = [.. Enumerable.Range(0, 256).Select(i => (byte)i)];
        Assert.Equal(Encoding.GetEncoding(1252).GetString(all), TextEncoding.Decode(all).Text);
    }

    [Theory]
    [InlineData("a😀é!", 3, ColumnEncoding.Utf8, 5)]
    [InlineData("a😀é!", 3, ColumnEncoding.Utf32, 2)]
    [InlineData("a😀é!", 4, ColumnEncoding.Utf8, 7)]
    [InlineData("a😀é!", 3, ColumnEncoding.Utf16, 3)]
    public void Columns_translate_both_ways(string line, int column, ColumnEncoding encoding, int client)
    {
        Assert.Equal(client, Columns.ToClient(line, column, encoding));
        Assert.Equal(column, Columns.FromClient(line, client, encoding));
    }
}
