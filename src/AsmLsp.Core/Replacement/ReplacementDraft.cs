using AsmLsp.Core.Doubts;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Replacement;

/// <summary>The source while it is changed line by line; each line knows the old line that it is.</summary>
internal sealed class ReplacementDraft
{
    private readonly SourceText before;
    private readonly ColumnStyle style;
    private readonly List<Line> lines;

    public ReplacementDraft(SourceFile file)
    {
        File = file;
        before = file.Text;
        style = ColumnStyle.Of(before);
        lines = [.. before.Lines.Select(static (l, i) => new Line(l.Text, i))];
    }

    /// <summary>The source as it was.</summary>
    public SourceFile File { get; }

    /// <summary>How many lines there are now.</summary>
    public int Count => lines.Count;

    /// <summary>The text of a line as it is now.</summary>
    public string this[int line] => lines[line].Text;

    /// <summary>The old line that a line is, or -1 for a new one.</summary>
    public int OldLine(int line) => line >= 0 && line < lines.Count ? lines[line].Old : -1;

    /// <summary>Where an old line is now.</summary>
    public int Find(int old) => lines.FindIndex(l => l.Old == old);

    /// <summary>A line of code in the style of the source.</summary>
    public string Statement(string operation, string operands) => style.Indent + style.Statement(operation, operands);

    /// <summary>A line of code as it is in the chip's facts, indented.</summary>
    public string Indented(string code) => style.Indent + code;

    public void Replace(int line, string text) => lines[line] = lines[line] with { Text = text };

    public void Replace(int line, TextSpan columns, string text)
    {
        string now = lines[line].Text;
        Replace(line, string.Concat(now.AsSpan(0, columns.Start), text, now.AsSpan(columns.End)));
    }

    public void InsertBefore(int line, IEnumerable<string> texts) =>
        lines.InsertRange(line, texts.Select(static t => new Line(t, -1)));

    /// <summary>Marks a line as doubtful; a line keeps its first mark.</summary>
    public void Doubt(int line, string words)
    {
        if (line >= 0 && !DoubtMark.IsOn(lines[line].Text))
            Replace(line, DoubtMark.Add(lines[line].Text, new Doubt(words)));
    }

    /// <summary>The source as it is now.</summary>
    public SourceFile ToFile()
    {
        string ending = before.UsualEnding;
        return new SourceFile(
            File.Name,
            SourceText.From(string.Join(ending, lines.Select(static l => l.Text)), before.Encoding)
        );
    }

    private readonly record struct Line(string Text, int Old);
}
