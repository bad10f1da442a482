using System.Text;

namespace AsmLsp;

/// <summary>The page of cautions (docs/bench-safety.md), built in so that it can be read offline.</summary>
internal static class SafetyPage
{
    /// <summary>The word that asks for it: <c>relist explain safety</c>.</summary>
    public const string Word = "safety";

    /// <summary>Its text.</summary>
    public static string Text
    {
        get
        {
            using Stream stream =
                typeof(SafetyPage).Assembly.GetManifestResourceStream("page/safety")
                ?? throw new InvalidOperationException("the page of cautions is missing from the program");
            using var reader = new StreamReader(stream, Encoding.UTF8);
            return reader.ReadToEnd();
        }
    }
}
