using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Pdf.Tests;

/// <summary>The programs of the fixtures, and of the demo, as they were before they were printed.</summary>
internal static class PrintedTruth
{
    /// <summary>A program by the name of its file.</summary>
    public static ProgramAnalysis Of(string name)
    {
        string path = Path.Combine(AppContext.BaseDirectory, "programs", name + ".asm");
        if (!File.Exists(path))
            path = Path.Combine(AppContext.BaseDirectory, "demo", name + ".asm");
        (string text, TextEncoding encoding) = TextEncoding.Decode(File.ReadAllBytes(path));
        return Assembler.Assemble(new SourceFile(name + ".asm", SourceText.From(text, encoding)));
    }

    /// <summary>The address and the word that a listing prints in front of each line that makes one.</summary>
    public static Func<int, (int Address, int Word)?> FirstWords(ProgramAnalysis truth)
    {
        var words = new Dictionary<int, (int, int)>();
        foreach ((int address, ushort word, WordOrigin origin) in truth.Image.Words)
            if (origin.Outermost.File == truth.Root && address < 0x2000)
                words.TryAdd(origin.Outermost.Line, (address, word));
        return line => words.TryGetValue(line, out (int, int) made) ? made : null;
    }
}
