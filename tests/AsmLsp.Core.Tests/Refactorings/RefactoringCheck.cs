using AsmLsp.Core.Assembly;
using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Refactorings;

/// <summary>
/// Compares refactorings with sources before and after. <c>{|}</c> in the source marks the cursor; two of them mark a selection. Another file
/// that the source includes may be given.
/// </summary>
internal static class RefactoringCheck
{
    public const string Chip = " list p=16f84a\n include <p16f84a.inc>\n __config 0x3FF1\n";

    /// <summary>A head for a chip of four banks.</summary>
    public const string FourBanks = " list p=16f877a\n include <p16f877a.inc>\n __config 0x3F32\n";

    /// <summary>Holds what a refactoring makes of a source, and what its title says.</summary>
    public static void Makes(
        string id,
        string source,
        string after,
        string? title = null,
        SourceFile? other = null,
        string? otherAfter = null
    )
    {
        Refactoring found =
            Find(source, other).SingleOrDefault(r => r.Id == id)
            ?? throw new Xunit.Sdk.XunitException($"No {id}, but {Titles(source, other)}");
        var edits = found.Compute();
        Assert.True(edits.Length > 0, $"{id} does not hold: {found.Title}");
        FileEdits? main = edits.SingleOrDefault(e => e.File.Name == "main.asm");
        Assert.Equal(after, main?.File.Text.WithEdits(main.Edits).ToString() ?? Unmark(source).Text);
        if (other is not null)
            Assert.Equal(
                otherAfter ?? other.Text.ToString(),
                edits.SingleOrDefault(e => e.File == other) is { } there
                    ? other.Text.WithEdits(there.Edits).ToString()
                    : other.Text.ToString()
            );
        if (title is not null)
            Assert.Equal(title, found.Title);
    }

    /// <summary>Holds that a refactoring is not offered at a place.</summary>
    public static void OffersNo(string id, string source, SourceFile? other = null) =>
        Assert.DoesNotContain(
            Find(source, other),
            r => r.Id == id || r.Id.StartsWith(id + "/", StringComparison.Ordinal)
        );

    /// <summary>Holds that a refactoring is offered, but gives nothing once it is worked out.</summary>
    public static void Refuses(string id, string source, SourceFile? other = null) =>
        Assert.Empty(Find(source, other).Single(r => r.Id == id).Compute());

    public static string Titles(string source, SourceFile? other = null) =>
        string.Join("\n", Find(source, other).Select(r => $"{r.Id}: {r.Title}"));

    public static Refactoring[] Find(string source, SourceFile? other = null)
    {
        (string text, int start, int end) = Unmark(source);
        ProgramAnalysis program = Assembler.Assemble(new SourceFile("main.asm", SourceText.From(text)), new One(other));
        return
        [
            .. RefactoringFinder.For(
                program,
                program.Root,
                program.Root.Text.PositionAt(start),
                program.Root.Text.PositionAt(end)
            ),
        ];
    }

    public static (string Text, int Start, int End) Unmark(string source)
    {
        int start = source.IndexOf("{|}", StringComparison.Ordinal);
        Assert.True(start >= 0, "no cursor");
        source = source.Remove(start, 3);
        int end = source.IndexOf("{|}", StringComparison.Ordinal);
        return end < 0 ? (source, start, start) : (source.Remove(end, 3), start, end);
    }

    internal sealed class One(SourceFile? file) : IIncludeResolver
    {
        public SourceFile? Resolve(string name, SourceFile from) => name == file?.Name ? file : null;
    }
}
