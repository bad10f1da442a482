using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>Whether code is printed around a row.</summary>
internal sealed class CodeNearby(DocumentRows rows)
{
    /// <summary>How many other lines, rests of comments and calls of macros, may be between two lines of code.</summary>
    private const int MostBetween = 10;

    /// <summary>In a font of both, as in typewritten pages: a line is the program's directly after code, and not far after it where code follows.</summary>
    public bool IsNearCode(int line)
    {
        if (rows.Looks[line] == Look.Perhaps && IsBetweenCode(line))
            return true;
        for (int i = line - 1; i >= 0 && line - i <= 3; i--)
        {
            if (rows.Looks[i] is not (Look.Code or Look.Comment))
                continue;
            if (line - i == 1 || rows.Looks[line] == Look.Perhaps)
                return true;
            for (int j = line + 1; j < rows.Count && j - line <= 3; j++)
                if (rows.Looks[j] is Look.Code or Look.Comment || AssemblyLook.IsEnd(rows.Texts[j]))
                    return true;
            return false;
        }

        return false;
    }

    /// <summary>What could be code, with code of its font above and below, is code that is not known: a macro's call.</summary>
    public bool IsBetweenCode(int line)
    {
        bool above = false;
        for (int i = line - 1; i >= 0 && line - i <= MostBetween && !above; i--)
            above = rows.Looks[i] is Look.Code or Look.Comment && rows.TypefaceOf(i) == rows.TypefaceOf(line);
        for (int i = line + 1; above && i < rows.Count && i - line <= MostBetween; i++)
            if (rows.Looks[i] is Look.Code or Look.Comment && rows.TypefaceOf(i) == rows.TypefaceOf(line))
                return true;
        return false;
    }

    /// <summary>In a font that is mostly prose: a line is the program's only with code right above and below it.</summary>
    public bool IsAmongCode(int line)
    {
        int above = -1,
            below = -1;
        for (int i = line - 1; i >= 0 && line - i <= 3 && above < 0; i--)
            if (rows.Looks[i] == Look.Code)
                above = i;
        for (int i = line + 1; i < rows.Count && i - line <= 3 && below < 0; i++)
            if (rows.Looks[i] == Look.Code)
                below = i;
        return rows.Looks[line] == Look.Comment
            ? above >= 0 || below >= 0
            : above >= 0 && (below >= 0 || AssemblyLook.IsEnd(rows.Texts[line]));
    }

    /// <summary>The type continues with code, or with a comment, after a few lines at most.</summary>
    public bool IsAboveCode(int line)
    {
        for (int i = line + 1; i < rows.Count && i - line <= 3; i++)
            if (rows.TypefaceOf(i) != rows.TypefaceOf(line))
                return false;
            else if (rows.Looks[i] is Look.Code or Look.Comment)
                return true;
        return false;
    }
}
