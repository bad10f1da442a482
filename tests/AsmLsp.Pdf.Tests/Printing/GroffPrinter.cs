using System.Globalization;
using System.Text;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>Typesets with groff: each word placed by itself, fonts that are not in the file.</summary>
internal sealed class GroffPrinter : IPrinter
{
    public string Name => "groff";

    public byte[] Print(Sheets sheets)
    {
        // No filling, no page headers and footers of its own, and every place given from the upper left corner of an A4 page.
        var input = new StringBuilder(
            ".pl 297m\n.po 0\n.ll 210m\n.nf\n.nh\n"
                .Replace("297m", "842p", StringComparison.Ordinal)
                .Replace("210m", "595p", StringComparison.Ordinal)
        );
        for (int i = 0; i < sheets.Pages.Length; i++)
        {
            if (i > 0)
                input.Append(".bp\n");
            Place(input, sheets.Headers[i], "H", 8, 50, 32);
            double room = sheets.Pages[0].Length > 1 ? 245 : 500;
            int size = (int)Math.Min(8, room / (0.6 * Math.Max(1, sheets.Width)));
            for (int column = 0; column < sheets.Pages[i].Length; column++)
            {
                double y = 56;
                foreach (string line in sheets.Pages[i][column])
                {
                    Place(input, line, sheets.IsProportional ? "TR" : "CR", size, 50 + 262 * column, y);
                    y += 13;
                }
            }

            Place(input, sheets.Footers[i], "H", 8, 260, 812);
        }

        return OutsideProgram.InFolder(folder =>
        {
            File.WriteAllText(Path.Combine(folder, "page.tr"), input.ToString());
            return OutsideProgram.Run("groff", ["-K", "utf8", "-Tpdf", "-P-pa4", Path.Combine(folder, "page.tr")]);
        });
    }

    private static void Place(StringBuilder input, string text, string font, int size, double x, double y)
    {
        text = text.Replace('\u00A0', ' ');
        if (text.Trim().Length == 0)
            return;
        input.Append(CultureInfo.InvariantCulture, $".ft {font}\n.ps {size}\n.po {x}p\n.sp |{y}p\n");
        input.Append("\\&");
        foreach (char c in text)
        {
            input.Append(
                c switch
                {
                    '\\' => "\\[rs]",
                    '-' => "\\-",
                    '\'' => "\\[aq]",
                    '`' => "\\[ga]",
                    '^' => "\\[ha]",
                    '~' => "\\[ti]",
                    '"' => "\\[dq]",
                    // Its Courier has no joined letters.
                    '\uFB01' => font == "CR" ? "fi" : "\\[fi]",
                    '\uFB02' => font == "CR" ? "fl" : "\\[fl]",
                    _ => c.ToString(),
                }
            );
        }

        input.Append('\n');
    }
}
