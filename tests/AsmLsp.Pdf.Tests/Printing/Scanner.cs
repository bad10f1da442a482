using System.Globalization;
using System.Text;

namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>
/// Makes a document of pictures out of a printed one: the pages are drawn by pdftoppm of poppler-utils, then damaged as
/// paper and scanner do it. The same print gives the same picture at every run.
/// </summary>
internal static class Scanner
{
    /// <summary>The PDF file with a picture on each page and nothing else.</summary>
    public static byte[] Scan(byte[] print, ScanKind kind)
    {
        var objects = new List<byte[]> { Latin("<< /Type /Catalog /Pages 2 0 R >>"), Latin("") };
        var pages = new List<int>();
        foreach (Picture drawn in Draw(print, kind.DotsPerInch))
        {
            Picture picture = Damage(drawn, kind, pages.Count);
            double width = picture.Width * 72.0 / kind.DotsPerInch,
                height = picture.Height * 72.0 / kind.DotsPerInch;
            objects.Add(
                Pdfs.Stream(
                    picture.Dots,
                    $"/Type /XObject /Subtype /Image /Width {picture.Width} /Height {picture.Height} /ColorSpace /DeviceGray /BitsPerComponent 8",
                    pack: true
                )
            );
            objects.Add(
                Pdfs.Stream(
                    Latin(string.Create(CultureInfo.InvariantCulture, $"q {width} 0 0 {height} 0 0 cm /Scan Do Q"))
                )
            );
            objects.Add(
                Latin(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {width} {height}] /Contents {objects.Count} 0 R /Resources << /XObject << /Scan {objects.Count - 1} 0 R >> >> >>"
                    )
                )
            );
            pages.Add(objects.Count);
        }

        objects[1] = Latin(
            $"<< /Type /Pages /Kids [{string.Join(' ', pages.Select(p => $"{p} 0 R"))}] /Count {pages.Count} >>"
        );
        return Pdfs.Raw(objects);
    }

    /// <summary>A gray picture, a byte a dot.</summary>
    internal sealed record Picture(int Width, int Height, byte[] Dots)
    {
        public byte At(int x, int y, byte outside) =>
            x < 0 || y < 0 || x >= Width || y >= Height ? outside : Dots[y * Width + x];

        /// <summary>As a binary gray map.</summary>
        public byte[] Pgm() => [.. Latin($"P5\n{Width} {Height}\n255\n"), .. Dots];
    }

    /// <summary>The pages as they would look if nothing happened to them.</summary>
    internal static List<Picture> Draw(byte[] print, int dotsPerInch) =>
        OutsideProgram.InFolder(folder =>
        {
            string file = Path.Combine(folder, "print.pdf");
            File.WriteAllBytes(file, print);
            OutsideProgram.Run(
                "pdftoppm",
                ["-r", dotsPerInch.ToString(CultureInfo.InvariantCulture), "-gray", file, Path.Combine(folder, "page")]
            );
            return Directory
                .GetFiles(folder, "*.pgm")
                .Order(StringComparer.Ordinal)
                .Select(p => Read(File.ReadAllBytes(p)))
                .ToList();
        });

    private static Picture Damage(Picture picture, ScanKind kind, int page)
    {
        if (kind.Turn != 0)
            picture = Turned(picture, kind.Turn * Math.PI / 180);
        if (kind.Blur > 0)
            picture = Blurred(picture, kind.Blur * kind.DotsPerInch / 300);
        if (kind.Grain == 0 && kind.Paper == 255)
            return picture;
        var random = new Random(page + 17);
        byte[] dots = new byte[picture.Dots.Length];
        for (int i = 0; i < dots.Length; i++)
        {
            // The sum of three even ones is near enough to the bell curve of a sensor's noise.
            double noise = (random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5) * 2 * kind.Grain;
            dots[i] = (byte)Math.Clamp(20 + picture.Dots[i] / 255.0 * (kind.Paper - 20) + noise, 0, 255);
        }

        return picture with
        {
            Dots = dots,
        };
    }

    private static Picture Turned(Picture picture, double angle)
    {
        byte[] dots = new byte[picture.Dots.Length];
        (double sin, double cos) = Math.SinCos(angle);
        double middleX = picture.Width / 2.0,
            middleY = picture.Height / 2.0;
        for (int y = 0; y < picture.Height; y++)
        {
            for (int x = 0; x < picture.Width; x++)
            {
                double fromX = cos * (x - middleX) + sin * (y - middleY) + middleX,
                    fromY = -sin * (x - middleX) + cos * (y - middleY) + middleY;
                int left = (int)Math.Floor(fromX),
                    top = (int)Math.Floor(fromY);
                double u = fromX - left,
                    v = fromY - top;
                dots[y * picture.Width + x] = (byte)(
                    (1 - v) * ((1 - u) * picture.At(left, top, 255) + u * picture.At(left + 1, top, 255))
                    + v * ((1 - u) * picture.At(left, top + 1, 255) + u * picture.At(left + 1, top + 1, 255))
                );
            }
        }

        return picture with
        {
            Dots = dots,
        };
    }

    // Across, then down: a bell of the radius, cut off at two of it.
    private static Picture Blurred(Picture picture, double radius)
    {
        int reach = Math.Max(1, (int)Math.Ceiling(2 * radius));
        double[] weights =
        [
            .. Enumerable.Range(-reach, 2 * reach + 1).Select(d => Math.Exp(-d * d / (radius * radius))),
        ];
        double sum = weights.Sum();
        foreach (bool across in (bool[])[true, false])
        {
            byte[] dots = new byte[picture.Dots.Length];
            for (int y = 0; y < picture.Height; y++)
            {
                for (int x = 0; x < picture.Width; x++)
                {
                    double value = 0;
                    for (int d = -reach; d <= reach; d++)
                        value += weights[d + reach] * (across ? picture.At(x + d, y, 255) : picture.At(x, y + d, 255));
                    dots[y * picture.Width + x] = (byte)(value / sum);
                }
            }

            picture = picture with { Dots = dots };
        }

        return picture;
    }

    // pdftoppm writes P5, the two sizes, 255, a line each.
    private static Picture Read(byte[] file)
    {
        int at = 0;
        string Line()
        {
            int end = Array.IndexOf(file, (byte)'\n', at);
            string line = Encoding.ASCII.GetString(file, at, end - at);
            at = end + 1;
            return line;
        }

        Assert.Equal("P5", Line());
        int[] size = [.. Line().Split(' ').Select(n => int.Parse(n, CultureInfo.InvariantCulture))];
        Assert.Equal("255", Line());
        return new Picture(size[0], size[1], file[at..]);
    }

    private static byte[] Latin(string text) => Encoding.Latin1.GetBytes(text);
}
