using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Text;

namespace AsmLsp.Host.Recovering;

/// <summary>What is to be recovered.</summary>
/// <param name="Path">The full path of the document; where it is no file, the name that it goes by.</param>
public sealed record DocumentRequest(string Path)
{
    /// <summary>The name of the document for people.</summary>
    public string Name { get; init; } = System.IO.Path.GetFileName(Path);

    /// <summary>Its bytes where they were read already, from standard input; else the file is read.</summary>
    public ReadOnlyMemory<byte>? Bytes { get; init; }

    /// <summary>The text as an editor holds it, or null.</summary>
    public SourceText? Open { get; init; }

    /// <summary>Which listing, from 1, or null.</summary>
    public int? Listing { get; init; }

    /// <summary>The pages to look at, from 1; empty for all.</summary>
    public ImmutableHashSet<int> Pages { get; init; } = [];

    /// <summary>Whether text around the listing is kept as comments.</summary>
    public bool KeepProse { get; init; }

    /// <summary>What is known of the chip.</summary>
    public AssemblyOptions Assembly { get; init; } = AssemblyOptions.Default;

    /// <summary>Folders for included files that a person named.</summary>
    public IReadOnlyList<string> Includes { get; init; } = [];

    /// <summary>The file that an editor holds for a full path, or null.</summary>
    public Func<string, SourceFile?>? OpenFile { get; init; }

    /// <summary>Makes the reader of printed documents; null where there is none.</summary>
    public Func<IPrintedDocumentReader>? Reader { get; init; }
}

/// <summary>What came of a recovery.</summary>
/// <param name="Document">The document with its program; null where it could not be read.</param>
/// <param name="Failure">Why not, for people; else null.</param>
/// <param name="Notes">What a person should know besides.</param>
public sealed record RecoveryOutcome(RecoveredDocument? Document, string? Failure, ImmutableArray<string> Notes);
