namespace AsmLsp.Core.Text;

/// <summary>A text with the name under which it is known: a path, or the address of an editor's buffer.</summary>
public sealed class SourceFile(string name, SourceText text)
{
    /// <summary>The path or address, as the host knows the file.</summary>
    public string Name { get; } = name;

    /// <summary>The text of this version of the file.</summary>
    public SourceText Text { get; } = text;

    /// <summary>The name without its folders, for people.</summary>
    public string ShortName => Name[(Name.AsSpan().LastIndexOfAny('/', '\\') + 1)..];
}

/// <summary>A stretch of one line of a file; the line counts from 0, the columns are UTF-16 code units from 0.</summary>
public readonly record struct SourcePlace(SourceFile File, int Line, TextSpan Columns)
{
    /// <summary>The stretch by offsets of the whole text.</summary>
    public TextSpan Span => new(File.Text.LineStart(Line) + Columns.Start, Columns.Length);

    /// <summary>File name and line for people, counted from 1.</summary>
    public override string ToString() => $"{File.ShortName}:{Line + 1}";
}
