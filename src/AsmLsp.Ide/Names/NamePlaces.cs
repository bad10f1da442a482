using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Names;

/// <summary>Where a name is and where it leads.</summary>
public static class NamePlaces
{
    /// <summary>Where the name at a place is defined, or the start of the file that the include there brings.</summary>
    public static IEnumerable<SourcePlace> Definitions(ProgramFile file, LinePosition at)
    {
        foreach (IncludeUse include in file.Analysis.Includes)
        {
            if (
                include.Place.File == file.Source
                && include.Place.Line == at.Line
                && include.Place.Columns.Touches(at.Column)
            )
            {
                return include.File is { } target ? [new SourcePlace(target, 0, default)] : [];
            }
        }

        return NameUse.At(file, at) is { } name ? name.Definitions(file).Select(place => place.Place) : [];
    }

    /// <summary>The includes of a file that lead to a file: where each is, and that file.</summary>
    public static IEnumerable<(SourcePlace Place, SourceFile Target)> Includes(ProgramFile file)
    {
        foreach (IncludeUse include in file.Analysis.Includes)
        {
            if (include.Place.File == file.Source && include.File is { } target)
            {
                yield return (include.Place, target);
            }
        }
    }

    /// <summary>Everywhere that the name at a place is, in all files of the program; also names of the chip.</summary>
    public static IEnumerable<SourcePlace> References(ProgramFile file, LinePosition at, bool includeDefinitions) =>
        NameUse.At(file, at) is { } name
            ? name.Everywhere(file)
                .Where(place => includeDefinitions || !place.IsDefinition)
                .Select(place => place.Place)
            : [];

    /// <summary>The places of a macro's own name, which are in its few lines only, so that they may be edited together; else none.</summary>
    public static IEnumerable<SourcePlace> EditedTogether(ProgramFile file, LinePosition at) =>
        NameUse.At(file, at) is { Kind: NameKind.MacroOwn } name
            ? name.Everywhere(file).Select(place => place.Place)
            : [];
}
