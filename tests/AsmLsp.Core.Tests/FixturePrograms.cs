using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Tests;

/// <summary>The programs of tests/fixtures and of the demonstration, read from the repository.</summary>
internal static class FixturePrograms
{
    /// <summary>The folder of the solution.</summary>
    public static string Root { get; } = Repository();

    /// <summary>The folder of the programs.</summary>
    public static string Folder { get; } = Path.Combine(Root, "tests", "fixtures", "programs");

    /// <summary>The programs' names, without their ending.</summary>
    public static IEnumerable<string> Names =>
        Directory
            .GetFiles(Folder, "*.asm")
            .Select(static f => Path.GetFileNameWithoutExtension(f))
            .Order(StringComparer.Ordinal);

    /// <summary>All programs, assembled, the one of the demonstration last.</summary>
    public static ProgramAnalysis[] Assembled() =>
        [
            .. Names
                .Select(static n => Path.Combine(Folder, n + ".asm"))
                .Append(Path.Combine(Root, "docs", "demo", "crossing.asm"))
                .Select(static p => Assembler.Assemble(Read(p), new Beside())),
        ];

    /// <summary>One program, assembled.</summary>
    public static ProgramAnalysis Assemble(string name) =>
        Assembler.Assemble(Read(Path.Combine(Folder, name + ".asm")), new Beside());

    /// <summary>Reads a source file as the command line does.</summary>
    public static SourceFile Read(string path)
    {
        (string text, TextEncoding encoding) = TextEncoding.Decode(File.ReadAllBytes(path));
        return new SourceFile(path, SourceText.From(text, encoding));
    }

    private static string Repository()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "AsmLsp.sln")))
            folder = Path.GetDirectoryName(folder);
        return folder
            ?? throw new InvalidOperationException("The folder of the solution is not found above the tests.");
    }

    /// <summary>Finds the files beside the programs.</summary>
    public sealed class Beside : IIncludeResolver
    {
        private readonly Dictionary<string, SourceFile> read = new(StringComparer.Ordinal);

        public SourceFile? Resolve(string name, SourceFile from)
        {
            string path = Path.Combine(Folder, name);
            if (read.TryGetValue(path, out SourceFile? known))
                return known;
            return File.Exists(path) ? read[path] = Read(path) : null;
        }
    }
}
