using System.Diagnostics;
using System.Globalization;

namespace AsmLsp.Rendering;

/// <summary>
/// Says on a terminal that work continues, and for how long, once it takes more than a second. The line is gone before anything else is
/// written, and when the work ends.
/// </summary>
internal sealed class Waiting : IDisposable
{
    private const string Usual = "Working";

    private static readonly TimeSpan Step = TimeSpan.FromSeconds(1);

    private readonly Lock gate = new();
    private readonly Stopwatch watch = Stopwatch.StartNew();
    private readonly TextWriter screen;
    private readonly Timer timer;
    private string what = Usual;
    private int shown;
    private bool isQuiet;

    /// <summary>Begins.</summary>
    /// <param name="screen">The terminal.</param>
    public Waiting(TextWriter screen)
    {
        this.screen = screen;
        timer = new Timer(_ => Show(), null, Step, Step);
    }

    /// <summary>Names a part of the work until the result is disposed of; null where nobody looks at a terminal.</summary>
    /// <param name="error">The error stream.</param>
    /// <param name="what">What is being done, such as "Reading kit.pdf".</param>
    public static IDisposable? On(TextWriter error, string what) =>
        error is VisibleWriter { Waiting: { } waiting } ? new Part(waiting, what) : null;

    /// <summary>Takes the line away, before something is written; a person then sees that there is progress.</summary>
    public void Clear()
    {
        lock (gate)
        {
            isQuiet = true;
            if (shown == 0)
                return;
            screen.Write("\r" + new string(' ', shown) + "\r");
            shown = 0;
            screen.Flush();
        }
    }

    public void Dispose()
    {
        timer.Dispose();
        Clear();
    }

    private void Begin(string part)
    {
        Clear();
        lock (gate)
        {
            what = part;
            isQuiet = false;
            watch.Restart();
        }

        timer.Change(Step, Step);
    }

    private void Show()
    {
        lock (gate)
        {
            if (isQuiet)
                return;
            string line = string.Create(CultureInfo.InvariantCulture, $"{what}: {watch.Elapsed.TotalSeconds:0} s ...");
            shown = Math.Max(shown, line.Length);
            screen.Write("\r" + line);
            screen.Flush();
        }
    }

    private sealed class Part : IDisposable
    {
        private readonly Waiting whole;

        public Part(Waiting whole, string what)
        {
            this.whole = whole;
            whole.Begin(what);
        }

        public void Dispose() => whole.Begin(Usual);
    }
}
