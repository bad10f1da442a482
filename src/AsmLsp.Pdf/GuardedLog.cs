using UglyToad.PdfPig.Logging;

namespace AsmLsp.Pdf;

/// <summary>Listens to the PDF library: each message is an occasion to end work that has become too much.</summary>
internal sealed class GuardedLog(ReadingGuard guard) : ILog
{
    public ReadingGuard Guard => guard;

    /// <summary>The fonts met so far.</summary>
    public FontFaces Faces { get; } = new();

    /// <summary>Whether text was left out because its font is not in the document.</summary>
    public bool LeftTextOut { get; private set; }

    public void Debug(string message) => Listen(message);

    public void Debug(string message, Exception ex) => Listen(message);

    public void Warn(string message) => Listen(message);

    public void Error(string message) => Listen(message);

    public void Error(string message, Exception ex) => Listen(message);

    private void Listen(string message)
    {
        // The library says it nowhere else.
        if (message.Contains("missing font", StringComparison.OrdinalIgnoreCase))
            LeftTextOut = true;
        guard.Check();
    }
}
