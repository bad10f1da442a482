using System.Text.Json.Serialization;
using AsmLsp.Core.Refactorings;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.Host;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>workspace/willRenameFiles</c>: includes continue meaning the files that they meant.</summary>
internal sealed class WillRenameFilesHandler : IFeature
{
    public const string Method = "workspace/willRenameFiles";

    private const string Sources = "**/*.{asm,ASM,inc,INC,s,S,src,SRC,h,H}";

    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, client) =>
                client.WillRenameFiles
                    ? offer with
                    {
                        Workspace = (offer.Workspace ?? new()) with
                        {
                            FileOperations = new()
                            {
                                WillRename = new([
                                    new(new(Sources)) { Scheme = "file" },
                                    new(new("**/*") { Matches = "folder" }) { Scheme = "file" },
                                ]),
                            },
                        },
                    }
                    : offer
        );
        registry.Request<RenameFilesParams, WorkspaceEdit?>(Method, (request, asked, _) => Handle(request, asked));
    }

    public static WorkspaceEdit? Handle(RequestContext request, RenameFilesParams asked)
    {
        WorkspacePrograms programs = request.Programs;
        (string Old, string New)[] moves =
        [
            .. asked
                .Files.Select(file => (DocumentUri.Parse(file.OldUri).Path, DocumentUri.Parse(file.NewUri).Path))
                .Where(move => move is { Item1: not null, Item2: not null })
                .Select(move => (move.Item1!, move.Item2!)),
        ];
        var changes = new List<FileEdits>();
        foreach (SourceFile file in FilesOf(programs))
        {
            List<TextEdit> edits = EditsOf(programs.Files, file, moves);
            if (edits.Count > 0)
            {
                changes.Add(new(file, [.. edits]));
            }
        }

        return changes.Count == 0 ? null : Edits.Of(request, programs, changes);
    }

    private static IEnumerable<SourceFile> FilesOf(WorkspacePrograms programs) =>
        programs
            .OfOpenDocuments()
            .SelectMany(program => program.Analysis.Files)
            .Concat(IncludeGraph.InFolders(programs.Files))
            .Where(file => Path.IsPathFullyQualified(file.Name))
            .DistinctBy(file => file.Name);

    private static List<TextEdit> EditsOf(WorkspaceFiles files, SourceFile file, (string Old, string New)[] moves)
    {
        var edits = new List<TextEdit>();
        string from = Moved(file.Name, moves);
        int number = 0;
        foreach (TextLine line in file.Text.Lines)
        {
            if (
                LineSyntax.Of(line) is { Keyword: Keyword.Include } syntax
                && IncludeSearch.Clean(syntax.OperandText) is { Length: > 0 } written
                && files.Find(written, file.Name, IncludeGraph.ProjectOf(files, file.Name)) is { } target
            )
            {
                string to = Moved(target, moves);
                if (
                    (to != target || from != file.Name)
                    && Name(written, target, file.Name, to, from) is { } name
                    && NamePlace(syntax) is { } span
                )
                {
                    edits.Add(new TextEdit(new TextSpan(file.Text.LineStart(number) + span.Start, span.Length), name));
                }
            }

            number++;
        }

        return edits;
    }

    /// <summary>The name to write, or null where the old one still means the file.</summary>
    private static string? Name(string written, string target, string from, string newTarget, string newFrom)
    {
        string relative = Path.GetRelativePath(Path.GetDirectoryName(newFrom)!, newTarget).Replace('\\', '/');
        string before = Path.GetRelativePath(Path.GetDirectoryName(from)!, target).Replace('\\', '/');
        if (relative == before)
        {
            return null;
        }

        // A name without folders that was found by search continues without folders while the folder stays the same.
        bool bare = !written.Contains('/', StringComparison.Ordinal) && before.Contains('/', StringComparison.Ordinal);
        bool sameFolder = Path.GetDirectoryName(newTarget) == Path.GetDirectoryName(target) && newFrom == from;
        if (bare && sameFolder)
        {
            string name = Path.GetFileName(newTarget);
            return name == written ? null : name;
        }

        return relative;
    }

    /// <summary>The file's name without what is around it.</summary>
    private static TextSpan? NamePlace(LineSyntax syntax)
    {
        TextSpan operand = syntax.OperandSpan;
        string text = syntax.OperandText;
        if (text.Length == 0)
        {
            return null;
        }

        if (text[0] is not ('<' or '"' or '\''))
        {
            return operand;
        }

        int close = text.IndexOf(text[0] == '<' ? '>' : text[0], 1);
        return new TextSpan(operand.Start + 1, (close < 0 ? text.Length : close) - 1);
    }

    private static string Moved(string path, (string Old, string New)[] moves)
    {
        foreach ((string old, string now) in moves)
        {
            if (DiskSources.PathComparer.Equals(path, old))
            {
                return now;
            }

            // A whole folder was moved.
            if (
                path.StartsWith(
                    Path.TrimEndingDirectorySeparator(old) + Path.DirectorySeparatorChar,
                    StringComparison.Ordinal
                )
            )
            {
                return Path.TrimEndingDirectorySeparator(now) + path[Path.TrimEndingDirectorySeparator(old).Length..];
            }
        }

        return path;
    }
}

internal sealed record FileOperationPattern(string Glob)
{
    /// <summary><c>file</c> or <c>folder</c>; both when left out.</summary>
    public string? Matches { get; init; }
}

internal sealed record FileOperationFilter(FileOperationPattern Pattern)
{
    public string? Scheme { get; init; }
}

internal sealed record FileOperationRegistrationOptions(FileOperationFilter[] Filters);

internal sealed record FileRename(string OldUri, string NewUri);

internal sealed record RenameFilesParams(FileRename[] Files) : IJsonOnDeserialized
{
    void IJsonOnDeserialized.OnDeserialized() => ListEntries.Check(Files);
}

internal sealed record FileOperationOptions
{
    public FileOperationRegistrationOptions? WillRename { get; init; }
}

internal sealed partial record WorkspaceServerCapabilities
{
    public FileOperationOptions? FileOperations { get; init; }
}

internal sealed partial class MessageTypes
{
    public RenameFilesParams? RenameFilesParams { get; init; }
}

/// <summary>What a client declares about this.</summary>
internal static class WillRenameFilesClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether it asks before it renames files.</summary>
        public bool WillRenameFiles => client.Flag("workspace.fileOperations.willRename");
    }
}
