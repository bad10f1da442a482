namespace AsmLsp.Host.Archive;

/// <summary>The files of an archive.</summary>
internal static class ArchiveNames
{
    public const string Recovered = "recovered.asm";

    public const string Source = "source.asm";

    public const string Hex = "source.hex";

    public const string Report = "report.json";

    public const string Review = "review.html";

    public const string Doubts = "doubts.txt";

    public const string Readme = "README.txt";

    public const string Manifest = "manifest.json";

    public const string Sums = "SHA256SUMS";

    /// <summary>The bench card of the program.</summary>
    public const string Card = "card.html";

    /// <summary>The record of the boards.</summary>
    public const string Boards = "boards.csv";

    /// <summary>The document's copy: a PDF keeps its ending, everything else is text.</summary>
    public static string Document(bool isPrinted, string name)
    {
        string ending = Path.GetExtension(name).ToLowerInvariant();
        return isPrinted && ending.Length is > 1 and <= 5 && ending[1..].All(char.IsAsciiLetterOrDigit)
                ? "document" + ending
            : isPrinted ? "document.pdf"
            : "document.txt";
    }

    /// <summary>What each file is, in the order in which a person looks at them.</summary>
    public static string Meaning(string name) =>
        name switch
        {
            Recovered => "the program as it was recovered; a line with ';?' is in doubt",
            Source => "the program as it is now: resolve doubts here",
            Hex => "what source.asm builds to, in Intel HEX",
            Report => "every change, doubt and problem of the recovery, by the lines of recovered.asm",
            Review => "the document and recovered.asm side by side, for any browser or on paper",
            Doubts => "which doubts are open, and how the others were resolved",
            Manifest => "the facts of this page for other programs",
            Readme => "this page",
            Card => "the bench card: pins, what to probe, programming step by step",
            Boards => "which chip holds what: a row for each read-out that was filed",
            _ when ArchiveBoards.IsOne(name) => "what was read from the chip of that board",
            _ when name.StartsWith("document.", StringComparison.Ordinal) => "the document, as it was found",
            _ => "a file that the program includes",
        };
}
