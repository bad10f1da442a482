using System.Collections.Concurrent;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>
/// The includes of one program, with every question and its answer kept: as long as a later snapshot gives the same answers, the program is
/// the same and need not be assembled again.
/// </summary>
internal sealed class RecordedIncludes(WorkspaceFiles files, Project project) : IIncludeResolver
{
    private readonly ConcurrentDictionary<(string Name, string From), SourceFile?> answers = new();
    private readonly ConcurrentDictionary<(string Name, string From), IReadOnlyList<string>> candidates = new();

    public SourceFile? Resolve(string name, SourceFile from)
    {
        ArgumentNullException.ThrowIfNull(from);
        return answers.GetOrAdd((name, from.Name), question => Look(files, question.Name, question.From));
    }

    public bool IsUnreadable(string name, SourceFile from) => files.IsUnreadable(name, from.Name, project);

    public IReadOnlyList<string> Candidates(string name, SourceFile from)
    {
        ArgumentNullException.ThrowIfNull(from);
        return candidates.GetOrAdd(
            (name, from.Name),
            question => files.Candidates(question.Name, question.From, project)
        );
    }

    /// <summary>Whether the files of another snapshot give the same answers.</summary>
    public bool HoldsIn(WorkspaceFiles other)
    {
        foreach (((string name, string from), SourceFile? answer) in answers)
        {
            if (!ReferenceEquals(Look(other, name, from), answer))
            {
                return false;
            }
        }

        foreach (((string name, string from), IReadOnlyList<string> answer) in candidates)
        {
            if (!other.Candidates(name, from, project).SequenceEqual(answer))
            {
                return false;
            }
        }

        return true;
    }

    private SourceFile? Look(WorkspaceFiles space, string name, string from) =>
        space.Find(name, from, project) is { } path ? space.Read(path) : null;
}
