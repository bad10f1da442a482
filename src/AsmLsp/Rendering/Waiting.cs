using System.Diagnostics;
using System.Globalization;

namespace AsmLsp.Rendering;

/// <summary>Says on a terminal that work continues, and for how long, once it takes more than a second; the line is gone when it ends.</summary>
internal sealed class Waiting : IDisposable
{
    private static readonly TimeSpan Step = TimeSpan.FromSeconds(1);

    private readonly Lock gate = new();
    private readonly Stopwatch watch = Stopwatch.StartNew();
    private readonly TextWriter screen;
    private readonly string what;
    private readonly Timer timer;
    private int shown;
    private bool isOver;

    private Waiting(TextWriter screen, string what)
    {
        (this.screen, this.what) = (screen, what);
        timer = new Timer(_ => Show(), null, Step, Step);
    }

    /// <summary>Begins; null where nobody looks at a terminal.</summary>
    /// <param name="error">The error stream.</param>
    /// <param name="what">What is being done, such as "Reading kit.pdf".</param>
    public static Waiting? On(TextWriter error, string what) =>
        error is VisibleWriter { IsScreen: true } writer ? new Waiting(writer.Raw, what) : null;

    public void Dispose()
    {
        timer.Dispose();
        lock (gate)
        {
            isOver = true;
            if (shown > 0)
                screen.Write("\r" + new string(' ', shown) + "\r");
            screen.Flush();
        }
    }

    private void Show()
    {
        lock (gate)
        {
            if (isOver)
                return;
            string line = string.Create(CultureInfo.InvariantCulture, $"{what}: {watch.Elapsed.TotalSeconds:0} s ...");
            shown = Math.Max(shown, line.Length);
            screen.Write("\r" + line);
            screen.Flush();
        }
    }
}
