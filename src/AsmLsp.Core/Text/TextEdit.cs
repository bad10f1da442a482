namespace AsmLsp.Core.Text;

/// <summary>Replaces a stretch of a text (offsets of the text before the edit) by other text.</summary>
public readonly record struct TextEdit(TextSpan Span, string NewText);
