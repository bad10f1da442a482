using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Repairs;
using AsmLsp.Core.Text;
using AsmLsp.Ide.Reading;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features.Common;

/// <summary>Problems as the client is reported them.</summary>
internal static class Diagnostics
{
    /// <summary>The name under which the client shows them.</summary>
    public const string Source = "relist";

    /// <summary>The problems of one file of a program.</summary>
    public static Diagnostic[] Of(
        WorkspacePrograms programs,
        WorkspaceProgram program,
        SourceFile file,
        ClientProfile client,
        PositionMapper positions
    )
    {
        if (programs.DocumentOf(file) is { IsTooLarge: true })
        {
            return
            [
                About(
                    "file-too-large",
                    $"This document is longer than {OpenDocument.MostCharacters / (1024 * 1024)} million characters. It is not checked."
                ),
            ];
        }

        ImmutableArray<Problem> problems;
        try
        {
            problems = ReportedProblems.Of(program.Model, file);
            if (!ShowsFaded(client))
                problems = ProgramProblems.Gathered(problems);
        }
        catch (OperationCanceledException) when (program.IsGivenUp)
        {
            return
            [
                About(
                    "takes-too-long",
                    "Checking this program takes too long, so it was stopped. Look for loops, macros or defines that grow without end."
                ),
            ];
        }

        return
        [
            .. problems.Select(problem => Of(programs, problem, client, positions)),
            .. LeftOut(program, file, client, positions),
        ];
    }

    /// <summary>The problems of a HEX file.</summary>
    public static Diagnostic[] OfHex(HexView hex, PositionMapper positions) =>
        [
            .. hex.File.Problems.Select(problem => new Diagnostic(
                positions.ToRange(hex.File.Text, problem.Line, problem.Columns.Start, problem.Columns.End),
                problem.Message
            )
            {
                Severity = problem.IsError ? DiagnosticSeverity.Error : DiagnosticSeverity.Information,
                Source = Source,
            }),
        ];

    private static bool ShowsFaded(ClientProfile client) => client.DiagnosticTags || client.PullDiagnostics;

    private static Diagnostic About(string code, string message) =>
        new(new LspRange(new Position(0, 0), new Position(0, 0)), message)
        {
            Severity = DiagnosticSeverity.Error,
            Source = Source,
            Code = code,
        };

    // Gray lines, for clients that show them: what a choice leaves out, and the name that decides it.
    private static IEnumerable<Diagnostic> LeftOut(
        WorkspaceProgram program,
        SourceFile file,
        ClientProfile client,
        PositionMapper positions
    ) =>
        !ShowsFaded(client)
            ? []
            : ReportedProblems
                .LeftOut(program.Model, file)
                .Select(part => new Diagnostic(
                    new LspRange(
                        positions.ToRange(file.Text, part.FirstLine, 0, 0).Start,
                        positions.ToRange(file.Text, part.LastLine, 0, file.Text[part.LastLine].Text.Length).End
                    ),
                    part.Message
                )
                {
                    Severity = DiagnosticSeverity.Hint,
                    Source = Source,
                    Tags = [DiagnosticTag.Unnecessary],
                });

    /// <summary>One problem.</summary>
    public static Diagnostic Of(
        WorkspacePrograms programs,
        Problem problem,
        ClientProfile client,
        PositionMapper positions
    )
    {
        bool related = client.DiagnosticRelatedInformation || client.PullDiagnostics;
        string message = problem.Message;
        if (!related && problem.Related.Length > 0)
        {
            // A client that shows no second place gets it in words.
            RelatedPlace first = problem.Related[0];
            message += string.Create(
                CultureInfo.InvariantCulture,
                $" (see {(first.Place.File == problem.Place.File ? "" : first.Place.File.ShortName + " ")}line {first.Place.Line + 1}: {first.Text})"
            );
        }

        return new Diagnostic(RangeOf(problem.Place, positions), VisibleText.Of(message))
        {
            Severity = problem.Severity switch
            {
                Severity.Error => DiagnosticSeverity.Error,
                Severity.Warning => DiagnosticSeverity.Warning,
                _ => problem.Kind.IsUnused && ShowsFaded(client)
                    ? DiagnosticSeverity.Hint
                    : DiagnosticSeverity.Information,
            },
            Tags = problem.Kind.IsUnused && ShowsFaded(client) ? [DiagnosticTag.Unnecessary] : null,
            Code = problem.Code,
            CodeDescription =
                (client.DiagnosticCodeDescription || client.PullDiagnostics)
                && ProblemPages.OfThisVersion.AddressOf(problem.Code) is { } page
                    ? new CodeDescription(page)
                    : null,
            Source = Source,
            RelatedInformation =
                related && problem.Related.Length > 0
                    ?
                    [
                        .. problem.Related.Select(place => new DiagnosticRelatedInformation(
                            new Location(programs.UriOf(place.Place.File).Text, RangeOf(place.Place, positions)),
                            place.Text
                        )),
                    ]
                    : null,
            Data = client.DiagnosticData ? LspJson.Element<string[]>([problem.Code, .. problem.Arguments]) : null,
        };
    }

    /// <summary>The mistakes of a project file.</summary>
    public static Diagnostic[] OfProject(Project project, PositionMapper positions) =>
        [
            .. project.Problems.Select(problem =>
            {
                int line = Math.Clamp(problem.Line - 1, 0, project.Source!.Text.LineCount - 1);
                return new Diagnostic(
                    positions.ToRange(project.Source.Text, line, 0, project.Source.Text[line].Text.Length),
                    VisibleText.Of(problem.Message)
                )
                {
                    Severity = DiagnosticSeverity.Warning,
                    Source = Source,
                    Code = "project-file",
                };
            }),
        ];

    /// <summary>A number that differs where the lists differ, to say 'unchanged' without keeping old lists.</summary>
    public static string Fingerprint(Diagnostic[] diagnostics)
    {
        ulong hash = 14695981039346656037;
        foreach (Diagnostic diagnostic in diagnostics)
        {
            Number(diagnostic.Range.Start.Line);
            Number(diagnostic.Range.Start.Character);
            Number(diagnostic.Range.End.Line);
            Number(diagnostic.Range.End.Character);
            Number((int)(diagnostic.Severity ?? 0));
            Text(diagnostic.Code?.Text ?? "");
            Text(diagnostic.Message);
            foreach (DiagnosticRelatedInformation related in diagnostic.RelatedInformation ?? [])
            {
                Text(related.Location.Uri);
                Number(related.Location.Range.Start.Line);
                Number(related.Location.Range.Start.Character);
                Text(related.Message);
            }
        }

        return hash.ToString("x16", CultureInfo.InvariantCulture);

        // FNV-1a, 64 bits.
        void Number(int value) => hash = (hash ^ (uint)value) * 1099511628211;

        void Text(string text)
        {
            foreach (char c in text)
            {
                Number(c);
            }

            Number(-1);
        }
    }

    private static LspRange RangeOf(SourcePlace place, PositionMapper positions) =>
        positions.ToRange(place.File.Text, place.Line, place.Columns.Start, place.Columns.End);
}

/// <summary>What a client declares about this.</summary>
internal static class DiagnosticsClient
{
    extension(ClientProfile client)
    {
        /// <summary>Whether it shows further places of a problem.</summary>
        public bool DiagnosticRelatedInformation => client.Flag("textDocument.publishDiagnostics.relatedInformation");

        /// <summary>Whether it shows lines that are of no effect in another way.</summary>
        public bool DiagnosticTags => client.Has("textDocument.publishDiagnostics.tagSupport");

        /// <summary>Whether it links the code of a problem.</summary>
        public bool DiagnosticCodeDescription => client.Flag("textDocument.publishDiagnostics.codeDescriptionSupport");

        /// <summary>Whether it keeps data with a problem.</summary>
        public bool DiagnosticData => client.Flag("textDocument.publishDiagnostics.dataSupport");
    }
}
