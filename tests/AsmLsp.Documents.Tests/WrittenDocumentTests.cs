using System.Globalization;
using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Recovery;
using AsmLsp.Core.Recovery.Evidence;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Documents.Tests;

/// <summary>
/// Documents that word processors and converters have written (tests/fixtures/documents/make.py) with the programs of
/// tests/fixtures/programs in them, whose words an independent reader has worked out (check_words.py).
/// </summary>
public class WrittenDocumentTests
{
    private static readonly FlowDocuments Reader = new(new NoPages());

    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "documents");

    public static TheoryData<string> All
    {
        get
        {
            var names = new TheoryData<string>();
            foreach (string file in Directory.GetFiles(Folder, "*--*").Order(StringComparer.Ordinal))
                names.Add(Path.GetFileName(file));
            return names;
        }
    }

    [Fact]
    public void Every_kind_of_document_is_among_them() =>
        Assert.Equal(
            [".docx", ".html", ".odt", ".rtf"],
            Directory.GetFiles(Folder, "*--*").Select(Path.GetExtension).Distinct().Order(StringComparer.Ordinal)
        );

    [Theory]
    [MemberData(nameof(All))]
    public void Lines_come_out_in_order_with_their_columns(string name)
    {
        string[] text = Read(name).Split('\n');
        int at = 0;
        foreach (
            string line in Program(name).Split('\n').Select(static l => l.TrimEnd()).Where(static l => l.Length > 0)
        )
        {
            // Numbers in front of the lines have a cell of their own.
            while (at < text.Length && text[at].TrimEnd() != line && !IsNumbered(text[at], line))
                at++;
            Assert.True(at < text.Length, $"'{line}' is not where it belongs in {name}");
            at++;
        }
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Program_in_it_is_recovered_to_its_words(string name)
    {
        RecoveryResult result = PasteRecovery.Run(SourceText.From(Read(name)));
        Dictionary<int, int> words = [];
        foreach ((int address, ushort word, WordOrigin _) in result.Program.Image.Words)
            words[address] = word;
        Dictionary<int, int> wanted = Words(name);
        bool isSame = wanted.Count == words.Count && wanted.All(w => words.GetValueOrDefault(w.Key, -1) == w.Value);
        Assert.True(isSame, $"{name}: {string.Join('\n', result.Entries)}\n{result.Source}");
    }

    private static bool IsNumbered(string text, string line)
    {
        string trimmed = text.TrimStart();
        int digits = trimmed.TakeWhile(char.IsAsciiDigit).Count();
        return digits > 0 && trimmed[digits..].TrimEnd() == "  " + line;
    }

    private static string Read(string name)
    {
        byte[] bytes = File.ReadAllBytes(Path.Combine(Folder, name));
        PrintedReading reading = Reader.Read(bytes);
        Assert.True(reading.FlowingText is not null, reading.Failure?.Message);
        return reading.FlowingText;
    }

    private static string ProgramName(string name) => Path.GetFileNameWithoutExtension(name.Split("--")[1]);

    private static string Program(string name)
    {
        byte[] bytes = File.ReadAllBytes(
            Path.Combine(AppContext.BaseDirectory, "programs", ProgramName(name) + ".asm")
        );
        string text = Encoding.UTF8.GetString(bytes);
        if (text.Contains('\uFFFD', StringComparison.Ordinal))
            text = Encoding.Latin1.GetString(bytes);
        return text.Replace("\r", "", StringComparison.Ordinal);
    }

    private static Dictionary<int, int> Words(string name) =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "programs", ProgramName(name) + ".words"))
            .Select(static l => l.Split('#', ';')[0].Split([' ', ':', '\t'], StringSplitOptions.RemoveEmptyEntries))
            .Where(static p => p.Length >= 2)
            .ToDictionary(
                static p => int.Parse(p[0], NumberStyles.HexNumber, CultureInfo.InvariantCulture),
                static p => int.Parse(p[1], NumberStyles.HexNumber, CultureInfo.InvariantCulture)
            );
}
