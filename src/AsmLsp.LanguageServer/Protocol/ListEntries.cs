using System.Text.Json;

namespace AsmLsp.LanguageServer.Protocol;

/// <summary>The lists of the protocol have no entries that are null; the serializer does not look into them.</summary>
internal static class ListEntries
{
    /// <summary>Refuses lists with such an entry.</summary>
    /// <exception cref="JsonException">There is one; the request is answered with -32602.</exception>
    public static void Check(params ReadOnlySpan<object?[]?> lists)
    {
        foreach (object?[]? list in lists)
            if (list is not null && Array.IndexOf(list, null) >= 0)
                throw new JsonException("A list has an entry that is null.");
    }
}
