using System.Diagnostics.CodeAnalysis;
using UglyToad.PdfPig.Content;
using UglyToad.PdfPig.Core;
using UglyToad.PdfPig.Graphics.Colors;
using UglyToad.PdfPig.Parser.Parts;
using UglyToad.PdfPig.PdfFonts;
using UglyToad.PdfPig.Tokenization.Scanner;
using UglyToad.PdfPig.Tokens;

namespace AsmLsp.Pdf;

/// <summary>
/// Notes the dictionary of each font that is handed out. The library's fonts say what a code means, and where they do
/// not, only the dictionary leads to what else the file knows.
/// </summary>
internal sealed class FontNotes(IResourceStore inner, IPdfTokenScanner scanner, FontFaces faces, FontLimits limits)
    : IResourceStore
{
    // The fonts of the page, and of the drawings within it, by name.
    private readonly Stack<Dictionary<string, IToken>> scopes = new();

    public void LoadResourceDictionary(DictionaryToken resourceDictionary)
    {
        var fonts = new Dictionary<string, IToken>(StringComparer.Ordinal);
        if (
            resourceDictionary.TryGet(NameToken.Font, out IToken? token)
            && DirectObjectFinder.TryGet(token, scanner, out DictionaryToken? named)
        )
            foreach ((string name, IToken font) in named.Data)
            {
                limits.Check(font);
                fonts[name] = font;
            }

        inner.LoadResourceDictionary(resourceDictionary);
        scopes.Push(fonts);
    }

    public void UnloadResourceDictionary()
    {
        inner.UnloadResourceDictionary();
        scopes.TryPop(out _);
    }

    public IFont? GetFont(NameToken name)
    {
        IFont? font = inner.GetFont(name);
        if (font is null)
            return font;
        foreach (Dictionary<string, IToken> scope in scopes)
        {
            if (!scope.TryGetValue(name.Data, out IToken? token))
                continue;
            Note(font, token);
            break;
        }

        return font;
    }

    public IFont GetFontDirectly(IndirectReferenceToken fontReferenceToken)
    {
        limits.Check(fontReferenceToken);
        IFont font = inner.GetFontDirectly(fontReferenceToken);
        Note(font, fontReferenceToken);
        return font;
    }

    public bool TryGetXObject(NameToken name, [NotNullWhen(true)] out StreamToken? stream) =>
        inner.TryGetXObject(name, out stream);

    public bool TryGetXObjectReference(NameToken name, out IndirectReference reference) =>
        inner.TryGetXObjectReference(name, out reference);

    public DictionaryToken? GetExtendedGraphicsStateDictionary(NameToken name) =>
        inner.GetExtendedGraphicsStateDictionary(name);

    public bool TryGetNamedColorSpace(NameToken name, out ResourceColorSpace namedColorSpace) =>
        inner.TryGetNamedColorSpace(name, out namedColorSpace);

    public ColorSpaceDetails GetColorSpaceDetails(NameToken? name, DictionaryToken? dictionary) =>
        inner.GetColorSpaceDetails(name, dictionary);

    public ColorSpaceDetails GetDeviceColorSpaceDetails(ColorSpace colorSpace) =>
        inner.GetDeviceColorSpaceDetails(colorSpace);

    public DictionaryToken? GetMarkedContentPropertiesDictionary(NameToken name) =>
        inner.GetMarkedContentPropertiesDictionary(name);

    public IReadOnlyDictionary<NameToken, PatternColor> GetPatterns() => inner.GetPatterns();

    public Shading GetShading(NameToken name) => inner.GetShading(name);

    private void Note(IFont font, IToken token)
    {
        if (DirectObjectFinder.TryGet(token, scanner, out DictionaryToken? dictionary))
            faces.Note(font, dictionary);
    }
}
