using AsmLsp.Core.Assembly;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>What is known of a text from elsewhere, against which no repair is made.</summary>
internal interface IRepairProof
{
    /// <summary>Whether what is printed allows a repair.</summary>
    /// <param name="before">The program before it.</param>
    /// <param name="file">The file before it.</param>
    /// <param name="origins">Where the lines of that file were printed.</param>
    /// <param name="after">The program after it.</param>
    /// <param name="newFile">The file after it.</param>
    /// <param name="edited">The lines that it changes.</param>
    /// <param name="moved">The line after it of each line before.</param>
    /// <param name="joined">The lines that it joins to others.</param>
    /// <param name="isDoubtful">Whether it is a guess.</param>
    bool Allows(
        ProgramAnalysis before,
        SourceFile file,
        LineOrigin[] origins,
        ProgramAnalysis after,
        SourceFile newFile,
        IEnumerable<int> edited,
        int[] moved,
        Dictionary<int, int> joined,
        bool isDoubtful
    );
}
