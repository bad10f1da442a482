using UglyToad.PdfPig.PdfFonts;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>A font of the document.</summary>
internal sealed class FontFace
{
    private readonly Lazy<EmbeddedMap?> embedded;
    private readonly Lazy<CodeNames> names;

    public FontFace(string name)
        : this(name, name, null, null) { }

    public FontFace(string name, string key, DictionaryToken? dictionary, FontFiles? files)
    {
        // Six capitals and a plus mark a font of which only the used characters are in the file (ISO 32000-1, 9.6.4).
        Name = WithoutMark(name);
        Key = WithoutMark(key);
        embedded = new Lazy<EmbeddedMap?>(() => dictionary is null ? null : files?.MapOf(dictionary));
        names = new Lazy<CodeNames>(() =>
            dictionary is null || files is null ? CodeNames.None : files.NamesOf(dictionary)
        );
    }

    /// <summary>The name with the style, without the subset mark.</summary>
    public string Name { get; }

    /// <summary>What fonts have in common that are one to the eye: the name, or for a font without a good one a mark of its own.</summary>
    public string Key { get; }

    /// <summary>What the font's own names say of its codes.</summary>
    public CodeNames Names => names.Value;

    /// <summary>What the font program in the file says a code means, where the document itself says nothing; null where it says nothing either.</summary>
    public string? MeaningInside(int code) => embedded.Value?.CharacterOf(code);

    private static string WithoutMark(string name) =>
        name.Length > 7 && name[6] == '+' && name.AsSpan(0, 6).IndexOfAnyExceptInRange('A', 'Z') < 0 ? name[7..] : name;
}

/// <summary>The fonts of a document, each once.</summary>
internal sealed class FontFaces
{
    private readonly Dictionary<IFont, FontFace> faces = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<IFont, DictionaryToken> dictionaries = new(ReferenceEqualityComparer.Instance);

    /// <summary>Notes what the file says of a font.</summary>
    public void Note(IFont font, DictionaryToken dictionary) => dictionaries.TryAdd(font, dictionary);

    public FontFace Of(IFont font, FontFiles files)
    {
        if (faces.TryGetValue(font, out FontFace? face))
            return face;
        string name = font.Name?.Data ?? "";
        DictionaryToken? dictionary = dictionaries.GetValueOrDefault(font);
        // Fonts of drawings (Type 3) have no name of their own, or one that another page gives to another font.
        bool isDrawn =
            dictionary is not null
            && dictionary.TryGet(NameToken.Subtype, out NameToken subtype)
            && subtype == NameToken.Type3;
        face = new FontFace(name, isDrawn || name.Length == 0 ? $"{name} {faces.Count}" : name, dictionary, files);
        faces.Add(font, face);
        return face;
    }
}
