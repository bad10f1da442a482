namespace AsmLsp.LanguageServer.Connection;

/// <summary>The version of this build.</summary>
internal static class ServerVersion
{
    /// <summary>Three numbers with dots.</summary>
    public static string Text { get; } = typeof(ServerVersion).Assembly.GetName().Version?.ToString(3) ?? "0";
}
