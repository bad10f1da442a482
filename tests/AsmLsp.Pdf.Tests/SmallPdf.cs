using System.Globalization;
using System.Text;

namespace AsmLsp.Pdf.Tests;

/// <summary>A PDF written object by object, for what a library would not write (ISO 32000-1, 7.5).</summary>
internal static class SmallPdf
{
    /// <summary>One page with a content stream as given.</summary>
    public static byte[] With(byte[] content, string streamEntries, string fontEntries) =>
        Build(Stream(content, streamEntries), Text($"<</Type/Font/Subtype/Type1{fontEntries}>>"));

    /// <summary>One page whose font has two-byte codes and the given map from codes to characters.</summary>
    public static byte[] Composite(byte[] toUnicode, string shown) =>
        Build(
            Stream(Text($"BT /F1 10 Tf 30 150 Td {shown} Tj ET"), ""),
            Text(
                "<</Type/Font/Subtype/Type0/BaseFont/ABCDEF+Halt/Encoding/Identity-H/DescendantFonts[6 0 R]/ToUnicode 8 0 R>>"
            ),
            Text(
                "<</Type/Font/Subtype/CIDFontType2/BaseFont/ABCDEF+Halt/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>/FontDescriptor 7 0 R/DW 600>>"
            ),
            Text(
                "<</Type/FontDescriptor/FontName/ABCDEF+Halt/Flags 4/FontBBox[0 -200 600 800]/ItalicAngle 0/Ascent 800/Descent -200/CapHeight 700/StemV 80>>"
            ),
            Stream(toUnicode, "")
        );

    private static byte[] Build(params byte[][] fromFour)
    {
        byte[][] objects =
        [
            Text("<</Type/Catalog/Pages 2 0 R>>"),
            Text("<</Type/Pages/Kids[3 0 R]/Count 1>>"),
            Text("<</Type/Page/Parent 2 0 R/MediaBox[0 0 300 200]/Contents 4 0 R/Resources<</Font<</F1 5 0 R>>>>>>"),
            .. fromFour,
        ];
        using var file = new MemoryStream();
        file.Write("%PDF-1.4\n"u8);
        var offsets = new List<long>();
        for (int i = 0; i < objects.Length; i++)
        {
            offsets.Add(file.Position);
            file.Write(Text($"{i + 1} 0 obj\n"));
            file.Write(objects[i]);
            file.Write("\nendobj\n"u8);
        }

        long table = file.Position;
        file.Write(Text($"xref\n0 {objects.Length + 1}\n0000000000 65535 f \n"));
        foreach (long offset in offsets)
            file.Write(Text(offset.ToString("0000000000", CultureInfo.InvariantCulture) + " 00000 n \n"));
        file.Write(Text($"trailer<</Size {objects.Length + 1}/Root 1 0 R>>\nstartxref\n{table}\n%%EOF\n"));
        return file.ToArray();
    }

    private static byte[] Stream(byte[] content, string entries) =>
        [.. Text($"<</Length {content.Length}{entries}>>stream\n"), .. content, .. Text("\nendstream")];

    private static byte[] Text(string text) => Encoding.Latin1.GetBytes(text);
}
