using AsmLsp.Core.Doubts;
using AsmLsp.Core.Text;
using CsCheck;

namespace AsmLsp.Core.Tests.Doubts;

public class DoubtTableTests
{
    private static readonly Gen<string> Words = Of(
        "was",
        "c1rf",
        "0xFF?",
        "is",
        "a",
        "line",
        "missing",
        "here:",
        "or;",
        "'x'",
        "(see",
        "below)",
        "page",
        "/",
        "seven,"
    )
        .Array[0, 6]
        .Select(static w => string.Join(' ', w))
        .Where(static w => !w.EndsWith(')'));

    private static readonly Gen<string> Reading = Of(" movlw 0x33", "start clrf 0x0C", ";", " dt \"a;b\"", " goto $-1");

    private static readonly Gen<LineOrigin> Origin = Gen.Select(Gen.Int[0, 3], Gen.Int[1, 90])
        .Array[0, 4]
        .Select(static places =>
            places
                .OrderBy(static p => p)
                .Aggregate(LineOrigin.None, static (o, p) => o.With(LineOrigin.At(p.Item1, p.Item2)))
        );

    private static readonly Gen<Doubt> AnyDoubt = Gen.Select(Words, Reading.Array[0, 3], Origin)
        .Select(static d => new Doubt(d.Item1) { Alternatives = [.. d.Item2], Origin = d.Item3 });

    [Fact]
    public void A_mark_that_is_read_again_is_written_as_it_was() =>
        Draws.Of(
            AnyDoubt,
            1000,
            static doubt =>
            {
                string line = DoubtMark.Add(" movlw 1 ; one", doubt);
                Doubt read = DoubtMark.Read(line)!;
                Assert.Equal(doubt.Words, read.Words);
                Assert.Equal([.. doubt.Alternatives], read.Alternatives.ToArray());
                Assert.Equal(doubt.Place, read.Place);
                Assert.Equal(line, DoubtMark.Add(" movlw 1 ; one", read));
            }
        );

    [Fact]
    public void Marks_of_a_text_that_is_opened_again_are_left_as_they_stand() =>
        Draws.Of(
            AnyDoubt.Array[1, 5],
            300,
            static doubts =>
            {
                SourceText text = SourceText.From(
                    string.Join('\n', doubts.Select(static d => DoubtMark.Add(" nop", d)))
                );
                DoubtTable table = DoubtTable.Of(text);
                Assert.Equal(Enumerable.Range(0, doubts.Length), table.Lines);
                Assert.Empty(table.Render(text));
            }
        );

    [Fact]
    public void Several_doubts_of_one_line_are_one_mark()
    {
        DoubtTable table = DoubtTable
            .Empty.With(0, Doubt.Was("c1rf") with { Alternatives = [" clrf 1"] })
            .With(0, new Doubt("a line is missing above") { Origin = LineOrigin.At(3, 12) })
            .With(0, Doubt.Was("c1rf") with { Alternatives = [" clrf 1"] });
        Assert.Equal(
            " clrf 0 ;? was c1rf / a line is missing above [ clrf 1] (page 3, line 12)",
            Rendered(table, " clrf 0 ;?")
        );
    }

    [Fact]
    public void A_doubt_that_says_nothing_in_particular_gives_way_to_any_other()
    {
        var general = new Doubt("check this line") { Kind = DoubtKind.PictureInGeneral };
        Assert.Equal(
            " nop ;? was n0p",
            Rendered(DoubtTable.Empty.With(0, general).With(0, Doubt.Was("n0p")), " nop ;?")
        );
        Assert.Equal(
            " nop ;? was n0p",
            Rendered(DoubtTable.Empty.With(0, Doubt.Was("n0p")).With(0, general), " nop ;?")
        );
    }

    [Fact]
    public void Doubts_go_where_their_lines_go()
    {
        DoubtTable moved = DoubtTable.Empty.With(0, "first").With(1, "second").Moved([2, 2]);
        Assert.Equal([2], moved.Lines);
        Assert.Equal(["first", "second"], moved.At(2).Select(static d => d.Words));
    }

    private static Gen<string> Of(params string[] words) => Gen.Int[0, words.Length - 1].Select(i => words[i]);

    private static string Rendered(DoubtTable table, string line)
    {
        SourceText text = SourceText.From(line);
        return EditMap.Apply(text, table.Render(text)).ToString();
    }
}
