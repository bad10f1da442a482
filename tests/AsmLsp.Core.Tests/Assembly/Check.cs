using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests.Assembly;

/// <summary>Assembles a few lines and compares the words, or the problems, with what is expected.</summary>
internal static class Check
{
    public static ProgramAnalysis Assemble(string source, params (string Name, string Text)[] files) =>
        Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)), new Files(files));

    public static ProgramAnalysis Assemble(
        string source,
        AssemblyOptions options,
        params (string Name, string Text)[] files
    ) => Assembler.Assemble(new SourceFile("test.asm", SourceText.From(source)), new Files(files), options);

    /// <summary>The words as 'address:word word; address:word', in hexadecimal, words without a gap together.</summary>
    public static string Words(ProgramAnalysis program)
    {
        var text = new System.Text.StringBuilder();
        int next = -1;
        foreach ((int address, ushort word, WordOrigin _) in program.Image.Words)
        {
            if (address != next)
                text.Append(CultureInfo.InvariantCulture, $"{(text.Length > 0 ? "; " : "")}{address:X}:");
            else
                text.Append(' ');
            text.Append(word.ToString("X4", CultureInfo.InvariantCulture));
            next = address + 1;
        }

        return text.ToString();
    }

    /// <summary>Holds that a source gives words and no error.</summary>
    public static void Gives(string expected, string source, params (string Name, string Text)[] files)
    {
        ProgramAnalysis program = Assemble(source, files);
        Assert.True(
            !program.HasErrors,
            string.Join("\n", program.Problems.Select(p => $"{p.Place} {p.Severity} {p.Code}: {p.Message}"))
        );
        Assert.Equal(expected, Words(program));
    }

    /// <summary>The problems as 'line code', from line 1, without those that only concern a snippet (no end, no configuration).</summary>
    public static string[] Problems(string source, params (string Name, string Text)[] files) =>
        [
            .. Assemble(source, files)
                .Problems.Where(p =>
                    p.Kind != Catalogue.EndMissing
                    && p.Kind != Catalogue.NoConfiguration
                    && p.Kind != Catalogue.NoProgram
                )
                .Select(p => $"{p.Place.Line + 1} {p.Code}"),
        ];

    private sealed class Files((string Name, string Text)[] files) : IIncludeResolver
    {
        private readonly Dictionary<string, SourceFile> known = files.ToDictionary(
            f => f.Name,
            f => new SourceFile(f.Name, SourceText.From(f.Text)),
            StringComparer.OrdinalIgnoreCase
        );

        public SourceFile? Resolve(string name, SourceFile from) => known.GetValueOrDefault(name);

        public IReadOnlyList<string> Candidates(string name, SourceFile from)
        {
            string last = name[(name.LastIndexOfAny(['/', '\\']) + 1)..];
            return [.. known.Keys.Where(k => k.EndsWith("/" + last, StringComparison.OrdinalIgnoreCase)).Order()];
        }
    }
}
