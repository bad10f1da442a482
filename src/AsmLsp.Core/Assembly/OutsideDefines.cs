using System.Text;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Defines that come from outside the program: a command line, a project file, a setting.</summary>
public static class OutsideDefines
{
    /// <summary>The name of the file that holds them, for messages; there is no such file.</summary>
    public const string FileName = "--define";

    /// <summary>
    /// Puts 'NAME' and 'NAME=TEXT' together as <see cref="AssemblyOptions.Defines"/> has them; null where there is none.
    /// A text that is left out is 1.
    /// </summary>
    public static string? Join(IEnumerable<string> defines)
    {
        ArgumentNullException.ThrowIfNull(defines);
        string joined = string.Join('\n', defines.Select(static d => d.Trim()).Where(static d => d.Length > 0));
        return joined.Length == 0 ? null : joined;
    }

    /// <summary>Whether a text has the form 'NAME' or 'NAME=TEXT'.</summary>
    public static bool IsWellFormed(string define)
    {
        ArgumentNullException.ThrowIfNull(define);
        string name = NameOf(define.Trim());
        SyntaxToken[] tokens = LineSyntax.Parse(name, LineReading.NamesOnly).Tokens;
        return !define.AsSpan().ContainsAny('\r', '\n') && tokens is [{ Kind: TokenKind.Name }];
    }

    /// <summary>The name that a define from outside gives a text to.</summary>
    public static string NameOf(string define)
    {
        ArgumentNullException.ThrowIfNull(define);
        int equals = define.IndexOf('=', StringComparison.Ordinal);
        return (equals < 0 ? define : define[..equals]).Trim();
    }

    internal static SourceFile? FileOf(string? defines)
    {
        if (defines is null)
            return null;
        var text = new StringBuilder();
        foreach (string define in defines.Split('\n'))
        {
            int equals = define.IndexOf('=', StringComparison.Ordinal);
            text.Append("#define ").Append(NameOf(define)).Append(' ');
            text.Append(equals < 0 ? "1" : define[(equals + 1)..].Trim()).Append('\n');
        }

        return new SourceFile(FileName, SourceText.From(text.ToString()));
    }
}
