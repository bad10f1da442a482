namespace AsmLsp.Core.Shapes;

/// <summary>The count of a page as heads and feet print it: <c>page 2 of 7</c>, <c>Page 2/7</c>, <c>2/7</c>.</summary>
/// <param name="Number">The number of the page.</param>
/// <param name="Total">How many pages there are, or 0 where it is not printed.</param>
/// <param name="IsExplicit">Whether the word for a page is in front of it.</param>
internal readonly record struct PageCount(int Number, int Total, bool IsExplicit)
{
    /// <summary>Reads the count that a line begins or ends with, or that comes after the word for a page; null where there is none.</summary>
    public static PageCount? Find(string text)
    {
        string[] words = PageNumber.Words(text);
        for (int i = 0; i < words.Length; i++)
        {
            if (!PageNumber.TryNumber(words[i], out int number) || number == 0)
                continue;
            bool isExplicit = i > 0 && PageNumber.IsWord(words[i - 1]);
            int total =
                i + 2 < words.Length
                && (words[i + 1] == "/" || (isExplicit && PageWords.IsBetween(words[i + 1])))
                && PageNumber.TryNumber(words[i + 2], out int pages)
                && pages >= number
                    ? pages
                    : 0;
            bool isAtEdge = i == 0 || i + (total > 0 ? 3 : 1) == words.Length;
            if (isExplicit || (total > 0 && isAtEdge))
                return new PageCount(number, total, isExplicit);
        }

        return null;
    }
}
