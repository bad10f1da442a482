using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>An include of a program: its place and name as written, and what it brought: a file, or the built-in names of a chip.</summary>
public sealed record IncludeUse(SourcePlace Place, string Name, SourceFile? File, string? Chip);
