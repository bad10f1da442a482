using AsmLsp.Core.Explain;
using AsmLsp.Core.Flow;
using AsmLsp.Core.Text;
using AsmLsp.Ide;

namespace AsmLsp.LanguageServer.Workspace;

/// <summary>What most requests work on: one file, in the program that it belongs to, as of one snapshot.</summary>
/// <param name="Programs">All programs of the snapshot.</param>
/// <param name="Program">The program that the file belongs to.</param>
/// <param name="Source">The file.</param>
/// <param name="Document">The file as it is open in the editor; null where it is not.</param>
/// <param name="Uri">The file's address as the client spells it.</param>
internal sealed record DocumentView(
    WorkspacePrograms Programs,
    WorkspaceProgram Program,
    SourceFile Source,
    OpenDocument? Document,
    DocumentUri Uri
)
{
    /// <summary>The file as the editor's features ask about it.</summary>
    /// <exception cref="OperationCanceledException">The program takes too long, or a newer version has replaced it.</exception>
    public ProgramFile File => Program.Model.FileOf(Source);

    /// <summary>The text of the file.</summary>
    public SourceText Text => Source.Text;

    /// <summary>What the project file, else the settings, say about the clock.</summary>
    public ExplainOptions ExplainOptions =>
        (Program.Project.File.Clock ?? Programs.Snapshot.Settings.Clock) is { } clock
            ? new() { ClockHertz = ClockFinder.ReadRate(clock) }
            : ExplainOptions.Default;
}
