using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery.Results;

/// <summary>How far the letters of a text can be trusted.</summary>
internal enum TextQuality
{
    /// <summary>Nobody knows where it comes from, as of a paste.</summary>
    Unknown,

    /// <summary>The document itself says what each letter is.</summary>
    Clear,

    /// <summary>OCR has read it from a picture.</summary>
    Ocr,
}

/// <summary>What recovery knows beside the text.</summary>
public sealed record RecoveryOptions
{
    /// <summary>The usual: nothing beside the text.</summary>
    public static RecoveryOptions Default { get; } = new();

    /// <summary>The name under which the program is assembled, for messages and includes.</summary>
    public string Name { get; init; } = "recovered.asm";

    /// <summary>Finds the files that the program includes; null where there are none.</summary>
    public IIncludeResolver? Includes { get; init; }

    /// <summary>What the surroundings say about the program.</summary>
    public AssemblyOptions Assembly { get; init; } = AssemblyOptions.Default;

    /// <summary>Where each line of the text was printed; empty for a pasted text, whose lines are their own origins.</summary>
    public ImmutableArray<LineOrigin> Origins { get; init; } = [];

    /// <summary>What the numbers printed in front of the lines prove; null where there are none.</summary>
    internal IRepairProof? Proof { get; init; }

    /// <summary>Printed rows that are below a comment and are known to be rows of the program: the page has reported, and their words are not asked again.</summary>
    internal IReadOnlySet<PrintedPlace> KnownRows { get; init; } = ImmutableHashSet<PrintedPlace>.Empty;

    /// <summary>Of these, the rows above which text is printed that is no part of the program: no comment continues there.</summary>
    internal IReadOnlySet<PrintedPlace> AfterText { get; init; } = ImmutableHashSet<PrintedPlace>.Empty;

    /// <summary>How the text was read: whether a name that nothing defines can be another one, misread.</summary>
    internal TextQuality Quality { get; init; } = TextQuality.Unknown;

    /// <summary>For a file that a program includes: whether the program defines a name outside it; null for a program.</summary>
    internal Func<string, bool>? IsOutside { get; init; }

    /// <summary>The names of included files that have a report of their own.</summary>
    internal ImmutableArray<string> PrintedFiles { get; init; } = [];

    /// <summary>Whether the result is laid out in columns.</summary>
    public bool Format { get; init; } = true;
}

/// <summary>One line of the report: what was changed without doubt, what is doubtful, what is wrong.</summary>
/// <param name="Line">The line of the written source, from 0.</param>
/// <param name="Column">First column of the matter, from 0.</param>
/// <param name="EndColumn">The column after it.</param>
/// <param name="Severity">Error; warning for a doubt; information for a change that was made without doubt.</param>
/// <param name="Code">The code of the problem.</param>
/// <param name="Message">What was done, or what is to be done.</param>
/// <param name="Page">The page of the printed document, from 1, or null where it is not known.</param>
public sealed record RecoveryEntry(
    int Line,
    int Column,
    int EndColumn,
    Severity Severity,
    string Code,
    string Message,
    int? Page = null
)
{
    /// <summary>Further places of the same matter, such as the other lines that use a name.</summary>
    public ImmutableArray<ReportedPlace> Related { get; init; } = [];

    /// <summary>The doubt that is to be in the source for it; null where the entry needs none, or its line has it already.</summary>
    public Doubt? Doubt { get; init; }

    /// <summary>Whether it is about the document as a whole: then it is at the first line and means no stretch of it.</summary>
    public bool IsAboutDocument => this is { Line: 0, Column: 0, EndColumn: 0 };
}

/// <summary>A place in the written source that an entry of the report is about, too.</summary>
/// <param name="Line">The line, from 0.</param>
/// <param name="Column">Its first column, from 0.</param>
/// <param name="EndColumn">The column after it.</param>
public readonly record struct ReportedPlace(int Line, int Column, int EndColumn);

/// <summary>The recovered source with its report.</summary>
/// <param name="Source">The source to be written.</param>
/// <param name="Entries">The report, by line.</param>
/// <param name="Program">The source, assembled.</param>
public sealed record RecoveryResult(SourceText Source, ImmutableArray<RecoveryEntry> Entries, ProgramAnalysis Program)
{
    /// <summary>The printed or pasted lines that each line of the source comes from.</summary>
    public ImmutableArray<LineOrigin> Origins { get; init; } = [];

    /// <summary>What a person has to decide, by line; each line that has a doubt has its mark in the source and an entry in the report.</summary>
    public DoubtTable Doubts { get; init; } = DoubtTable.Empty;

    /// <summary>The files that the program includes and that the document prints by themselves, each with its own report.</summary>
    public ImmutableArray<PrintedFile> Files { get; init; } = [];

    /// <summary>The reports of the source and of the printed files that it includes, one after the other.</summary>
    public IEnumerable<RecoveryEntry> AllEntries => Entries.Concat(Files.SelectMany(static f => f.Result.Entries));

    /// <summary>Whether something is left for a person to do.</summary>
    public bool IsClean => !AllEntries.Any(static e => e.Severity != Severity.Information);
}
