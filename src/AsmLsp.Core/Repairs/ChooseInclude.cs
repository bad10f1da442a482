using System.Collections.Immutable;
using AsmLsp.Core.Problems;

namespace AsmLsp.Core.Repairs;

/// <summary>Writes the path of one of the files that an include may mean.</summary>
internal sealed class ChooseInclude : FixProvider
{
    // The arguments before the paths: the name as written, and all paths in one text.
    private const int BeforePaths = 2;

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.IncludeAmbiguous];

    internal override void Offer(FixRequest request)
    {
        string folder = FolderOf(request.File.Name);
        foreach (string path in request.Problem.Arguments.Skip(BeforePaths))
        {
            string shown = path.Replace('\\', '/');
            if (folder.Length > 0 && shown.StartsWith(folder, StringComparison.Ordinal))
                shown = shown[folder.Length..];
            request.Guess($"Include {shown}", null, request.ReplaceMarked($"\"{shown}\""));
        }
    }

    private static string FolderOf(string name)
    {
        string plain = name.Replace('\\', '/');
        return plain[..(plain.LastIndexOf('/') + 1)];
    }
}
