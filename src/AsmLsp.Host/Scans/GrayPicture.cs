namespace AsmLsp.Host.Scans;

/// <summary>A gray picture, a byte a dot, 0 black to 255 white.</summary>
internal sealed class GrayPicture(int width, int height, byte[] dots)
{
    // Parts of the way from ink to paper, as they read best in the measurements; paper that varies more has grain.
    private const double BlackFrom = 0.25,
        WhiteFrom = 0.15,
        Grainy = 0.1;

    // Ink is darker than paper by so much, and by so many deviations of its grain.
    private const double LeastContrast = 24,
        Grains = 5;

    public int Width { get; } = width;

    public int Height { get; } = height;

    public byte[] Dots { get; } = dots;

    /// <summary>Reads a binary gray map (netpbm's P5 with 8 bits); null where it is none, or larger than wanted.</summary>
    public static GrayPicture? Read(string path, int mostDots)
    {
        using FileStream file = File.OpenRead(path);
        if (file.ReadByte() != 'P' || file.ReadByte() != '5')
            return null;
        if (Number(file) is not { } width || Number(file) is not { } height || Number(file) is not 255)
            return null;
        if (width <= 0 || height <= 0 || (long)width * height > mostDots)
            return null;
        byte[] dots = new byte[width * height];
        return file.ReadAtLeast(dots, dots.Length, throwOnEndOfStream: false) == dots.Length
            ? new GrayPicture(width, height, dots)
            : null;
    }

    /// <summary>Writes it in the same format.</summary>
    public void Write(string path)
    {
        using FileStream file = File.Create(path);
        file.Write(
            System.Text.Encoding.ASCII.GetBytes(
                string.Create(System.Globalization.CultureInfo.InvariantCulture, $"P5\n{Width} {Height}\n255\n")
            )
        );
        file.Write(Dots);
    }

    /// <summary>
    /// The gray that parts ink from paper best (N. Otsu, A threshold selection method from gray-level histograms, 1979). On a page with little
    /// ink that would be a line through the grain of the paper: what is not far darker than the paper is none.
    /// </summary>
    public int Threshold()
    {
        var counts = new long[256];
        foreach (byte dot in Dots)
            counts[dot]++;
        double sum = 0,
            all = Dots.Length;
        for (int i = 0; i < 256; i++)
            sum += (double)i * counts[i];
        double dark = 0,
            darkSum = 0,
            best = -1;
        int threshold = 127;
        for (int i = 0; i < 256; i++)
        {
            dark += counts[i];
            if (dark == 0 || dark == all)
                continue;
            darkSum += (double)i * counts[i];
            double difference = darkSum / dark - (sum - darkSum) / (all - dark);
            double between = dark * (all - dark) * difference * difference;
            if (between > best)
                (best, threshold) = (between, i);
        }

        int paper = Level(counts, 0.5);
        // Half of the grains lie within 0.674 of their deviation (the normal distribution's quartile).
        double grain = (paper - Level(counts, 0.25)) / 0.674;
        return paper < 128
            ? threshold
            : Math.Max(0, Math.Min(threshold, (int)(paper - Math.Max(LeastContrast, Grains * grain))));
    }

    // The gray below which a part of all dots lies.
    private static int Level(long[] counts, double part)
    {
        long wanted = (long)(counts.Sum() * part),
            below = 0;
        int level = 0;
        while (level < 255 && (below += counts[level]) <= wanted)
            level++;
        return level;
    }

    /// <summary>The picture turned to the right by a quarter, a half or three quarters.</summary>
    public GrayPicture Turned(int quarters)
    {
        GrayPicture from = this;
        for (int i = 0; i < (quarters & 3); i++)
        {
            byte[] to = new byte[from.Dots.Length];
            for (int y = 0; y < from.Height; y++)
            for (int x = 0; x < from.Width; x++)
                to[x * from.Height + from.Height - 1 - y] = from.Dots[y * from.Width + x];
            from = new GrayPicture(from.Height, from.Width, to);
        }

        return from;
    }

    /// <summary>
    /// The picture with white paper and black ink: what is near to the one or the other becomes it. The gray of paper that a scanner sees
    /// makes a text recognition read letters into the blanks between columns.
    /// </summary>
    public GrayPicture WithContrast(int threshold)
    {
        double dark = 0,
            light = 0,
            squares = 0;
        int darkDots = 0,
            lightDots = 0;
        foreach (byte dot in Dots)
        {
            if (dot <= threshold)
            {
                dark += dot;
                darkDots++;
            }
            else
            {
                light += dot;
                squares += (double)dot * dot;
                lightDots++;
            }
        }

        if (darkDots == 0 || lightDots == 0)
            return this;
        double ink = dark / darkDots,
            paper = light / lightDots,
            range = paper - ink;
        double grain = Math.Sqrt(Math.Max(0, squares / lightDots - paper * paper));
        GrayPicture source = grain > Grainy * range ? WithoutGrain() : this;
        byte[] table = new byte[256];
        double black = ink + BlackFrom * range,
            white = paper - WhiteFrom * range;
        for (int i = 0; i < 256; i++)
            table[i] = (byte)Math.Clamp((i - black) / (white - black) * 255, 0, 255);
        byte[] result = new byte[Dots.Length];
        for (int i = 0; i < result.Length; i++)
            result[i] = table[source.Dots[i]];
        return new GrayPicture(Width, Height, result);
    }

    /// <summary>The picture with each dot the middle one of the nine around it: grain goes, strokes stay.</summary>
    public GrayPicture WithoutGrain()
    {
        byte[] result = (byte[])Dots.Clone();
        Span<byte> nine = stackalloc byte[9];
        for (int y = 1; y < Height - 1; y++)
        {
            for (int x = 1; x < Width - 1; x++)
            {
                int n = 0;
                for (int dy = -1; dy <= 1; dy++)
                for (int dx = -1; dx <= 1; dx++)
                    nine[n++] = Dots[(y + dy) * Width + x + dx];
                // Sorting half of nine numbers finds the middle one.
                for (int i = 0; i <= 4; i++)
                {
                    int least = i;
                    for (int j = i + 1; j < 9; j++)
                        if (nine[j] < nine[least])
                            least = j;
                    (nine[i], nine[least]) = (nine[least], nine[i]);
                }

                result[y * Width + x] = nine[4];
            }
        }

        return new GrayPicture(Width, Height, result);
    }

    // A number after blanks and comments, with the one blank that ends it.
    private static int? Number(FileStream file)
    {
        int c = file.ReadByte();
        while (c is ' ' or '\n' or '\r' or '\t' or '#')
        {
            if (c == '#')
                while (c is not ('\n' or -1))
                    c = file.ReadByte();
            c = file.ReadByte();
        }

        if (c is < '0' or > '9')
            return null;
        long number = 0;
        for (; c is >= '0' and <= '9'; c = file.ReadByte())
            if ((number = number * 10 + c - '0') > int.MaxValue)
                return null;
        return (int)number;
    }
}
