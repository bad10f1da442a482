using System.Text;
using AsmLsp.Core.Shapes;

namespace AsmLsp.Core.Recovery.Listings;

/// <summary>
/// Puts the parts of a document together that are one program, and sets aside what is printed a second time: a program continues past its <c>end</c> to
/// the part that has the labels it needs.
/// </summary>
internal static class ListingParts
{
    /// <summary>The programs and pieces of a document, in its order.</summary>
    public static List<Listing> Join(List<Listing> parts)
    {
        var result = new List<Listing>(parts.Count);
        var taken = new bool[parts.Count];
        for (int i = 0; i < parts.Count; i++)
        {
            if (taken[i])
                continue;
            Listing whole = parts[i];
            if (whole.Names.HasHead)
                for (int j = i + 1; j < parts.Count && !parts[j].Names.HasHead; j++)
                    if (!taken[j] && Needs(whole, parts[j]))
                    {
                        whole = whole.With(parts[j]);
                        taken[j] = true;
                    }

            if (result.Find(l => IsSame(l, whole)) is { } first)
                first.Copies.Add(whole);
            else
                result.Add(whole);
        }

        return result;
    }

    // The other part has a label that this one jumps to and has not, and gives no name a second meaning.
    private static bool Needs(Listing listing, Listing part) =>
        !listing.Names.Overlaps(part.Names) && listing.Lacking.Exists(part.Names.HasLabel);

    private static bool IsSame(Listing a, Listing b) =>
        a.CodeLines == b.CodeLines && KeyOf(a).Equals(KeyOf(b), StringComparison.Ordinal);

    // The code without its comments, blanks and capitals.
    private static string KeyOf(Listing listing)
    {
        var key = new StringBuilder();
        foreach (string text in listing.Texts)
        {
            string plain = AssemblyLook.Plain(text);
            int comment = plain.IndexOf(';', StringComparison.Ordinal);
            bool any = false;
            foreach (char c in comment < 0 ? plain : plain[..comment])
            {
                if (char.IsWhiteSpace(c))
                    continue;
                key.Append(c);
                any = true;
            }

            if (any)
                key.Append('\n');
        }

        return key.ToString();
    }
}
