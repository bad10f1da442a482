using System.Text;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Assembly;

/// <summary>
/// Works out the text that a define comes to, defines inside its text included. A define is not put in inside its own
/// text: the name that is left there is reported where it is evaluated. Text and work are bounded; who asks reports it.
/// </summary>
internal sealed class DefineExpansion(AssemblyWork work, IReadOnlyDictionary<string, Symbol> defines)
{
    /// <summary>The most characters that a line may have after substitution.</summary>
    public const int LongestText = 32_768;

    private const int DeepestNesting = 64;
    private const int MostReplacements = 10_000;

    private StringBuilder made = new();
    private readonly HashSet<string> active = new(StringComparer.Ordinal);
    private int replacements;
    private int depth;

    /// <summary>What a limit says that was reached, or null.</summary>
    public string? Fault { get; private set; }

    /// <summary>The text of a define; null where a limit was reached.</summary>
    public string? Of(Symbol define, List<string>? arguments)
    {
        Put(define, Expanded(arguments, null, null));
        return Fault is null ? made.ToString().TrimEnd() : null;
    }

    /// <summary>A text with the defines in it put in; null where a limit was reached.</summary>
    public string? Of(string text)
    {
        Text(text, null, null);
        return Fault is null ? made.ToString() : null;
    }

    // Arguments are worked out where the call is, so that a name in them never meets a parameter of another define.
    private List<string>? Expanded(List<string>? arguments, Symbol? owner, List<string>? ownerArguments)
    {
        if (arguments is null)
            return null;
        StringBuilder outer = made;
        var expanded = new List<string>(arguments.Count);
        foreach (string argument in arguments)
        {
            made = new StringBuilder(argument.Length);
            Text(argument, owner, ownerArguments);
            expanded.Add(made.ToString());
        }

        made = outer;
        return expanded;
    }

    private void Put(Symbol define, List<string>? arguments)
    {
        if (++replacements > MostReplacements)
            Fault ??= $"Putting in {define.Name} takes more than {MostReplacements:N0} replacements.";
        else if (depth == DeepestNesting)
            Fault ??= $"The defines of {define.Name} are nested more than {DeepestNesting} levels deep.";
        if (Fault is not null)
            return;
        active.Add(define.Name);
        Text(define.Text ?? "", define, arguments);
        active.Remove(define.Name);
    }

    private void Text(string body, Symbol? owner, List<string>? arguments)
    {
        if (body.Length == 0)
            return;
        if (!work.TryCharacters(body.Length))
        {
            Fault ??= "Putting in the defines of this program makes too much text.";
            return;
        }

        depth++;
        LineSyntax syntax = LineSyntax.Parse(body, LineReading.NamesOnly);
        SyntaxToken[] tokens = syntax.Tokens;
        int end = tokens.Length;
        while (end > 0 && tokens[end - 1].Kind is TokenKind.Comment or TokenKind.Blank)
            end--;
        for (int i = 0; i < end && Fault is null; i++)
        {
            if (tokens[i].Kind != TokenKind.Name)
            {
                Append(syntax.SpanOf(i));
                continue;
            }

            string word = syntax.TextOf(i);
            int parameter = arguments is null ? -1 : IndexOf(owner!.Parameters, word);
            if (parameter >= 0)
            {
                if (parameter < arguments!.Count)
                    Append(arguments[parameter]);
                continue;
            }

            int after = i + 1;
            List<string>? inner = null;
            if (
                defines.TryGetValue(word, out Symbol? nested)
                && !active.Contains(word)
                && (nested.Parameters.Count == 0 || TryArguments(syntax, ref after, out inner))
            )
            {
                Put(nested, Expanded(inner, owner, arguments));
                i = after - 1;
                continue;
            }

            Append(word);
        }

        depth--;
    }

    private void Append(ReadOnlySpan<char> text)
    {
        made.Append(text);
        if (made.Length > LongestText)
            Fault ??= $"Putting in defines makes this line longer than {LongestText:N0} characters.";
    }

    private static int IndexOf(IReadOnlyList<string> names, string name)
    {
        for (int i = 0; i < names.Count; i++)
            if (names[i] == name)
                return i;
        return -1;
    }

    /// <summary>Reads the arguments in parentheses after a name; <paramref name="at"/> moves after them.</summary>
    public static bool TryArguments(LineSyntax syntax, ref int at, out List<string> arguments)
    {
        arguments = [];
        SyntaxToken[] tokens = syntax.Tokens;
        int open = at;
        while (open < tokens.Length && tokens[open].Kind == TokenKind.Blank)
            open++;
        if (open >= tokens.Length || tokens[open].Kind != TokenKind.Open)
            return false;
        int nesting = 0,
            start = tokens[open].End;
        for (int i = open; i < tokens.Length; i++)
        {
            switch (tokens[i].Kind)
            {
                case TokenKind.Open:
                    nesting++;
                    break;
                case TokenKind.Comma when nesting == 1:
                    arguments.Add(syntax.Text[start..tokens[i].Start].Trim());
                    start = tokens[i].End;
                    break;
                case TokenKind.Close when --nesting == 0:
                    arguments.Add(syntax.Text[start..tokens[i].Start].Trim());
                    at = i + 1;
                    return true;
            }
        }

        return false;
    }
}
