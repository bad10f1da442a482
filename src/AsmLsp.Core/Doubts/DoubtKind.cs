namespace AsmLsp.Core.Doubts;

/// <summary>What a doubt is about. Stages ask this; nobody reads the words that another stage wrote for people.</summary>
public enum DoubtKind
{
    /// <summary>Something about the line that has no more to it than its words.</summary>
    Other,

    /// <summary>Not known: the mark was read from a source.</summary>
    Written,

    /// <summary>A word of the line was taken for another one; <see cref="Doubt.Printed"/> is the word as printed.</summary>
    Word,

    /// <summary>Where the line begins or ends, or what is between its words: joined, parted, a comma put in.</summary>
    Extent,

    /// <summary>Whether the line is code or a remark.</summary>
    Remark,

    /// <summary>Lines may be missing here, or be here twice.</summary>
    Missing,

    /// <summary>The line reads well and yet may be wrong.</summary>
    Suspicion,

    /// <summary>A machine has read the line from a picture.</summary>
    Picture,

    /// <summary>A machine has read the line from a picture, and nothing more can be said about it; any other doubt says it better.</summary>
    PictureInGeneral,

    /// <summary>The word or the address printed beside the line is another one.</summary>
    PrintedWord,

    /// <summary>The document as a whole.</summary>
    Document,
}
