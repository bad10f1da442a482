using System.Collections.Immutable;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Refactorings;

/// <summary>Finds the refactorings for a place.</summary>
public static class RefactoringFinder
{
    /// <summary>The refactorings for a cursor or a selection, in menu order. None is worked out or checked yet.</summary>
    /// <param name="program">The program.</param>
    /// <param name="file">One of its files.</param>
    /// <param name="start">Where the selection starts; a place outside the text is moved inside.</param>
    /// <param name="end">Where it ends; the same as the start where nothing is selected. May come first: then the two change places.</param>
    /// <param name="wants">Which kinds are wanted; null for all.</param>
    /// <param name="onlyCheap">Whether only those are wanted that cost next to nothing to look for.</param>
    public static ImmutableArray<Refactoring> For(
        ProgramAnalysis program,
        SourceFile file,
        LinePosition start,
        LinePosition end,
        Func<RefactoringKind, bool>? wants = null,
        bool onlyCheap = false
    )
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(file);
        // A file that the program does not reach is not known well enough to be changed.
        if (!program.Files.Contains(file))
            return [];
        (start, end) = (Inside(file.Text, start), Inside(file.Text, end));
        if (end < start)
            (start, end) = (end, start);
        var found = new List<Refactoring>();
        var request = new RefactoringRequest(program, file, start, end, found);
        foreach (RefactoringProvider provider in RefactoringList.All)
        {
            if ((onlyCheap && !provider.IsCheap) || wants?.Invoke(provider.Kind) == false)
                continue;
            request.Provider = provider;
            provider.Offer(request);
        }

        return [.. found];
    }

    private static LinePosition Inside(SourceText text, LinePosition at) => text.PositionAt(text.OffsetAt(at));
}
