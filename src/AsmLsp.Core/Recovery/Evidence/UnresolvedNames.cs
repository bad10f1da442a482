using AsmLsp.Core.Assembly;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Evidence;

/// <summary>
/// Names of a listing that a machine has read and that do not fit together: one is used and defined nowhere, another looks like it. Either of
/// them may be the misread one, so both ends are to be looked at. A name that is misread alike everywhere changes no word.
/// </summary>
internal sealed class UnresolvedNames
{
    // What is read so many times more often than its look-alike is right.
    private const int Outvotes = 3;

    private readonly Dictionary<string, int> unknown = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> read = new(StringComparer.Ordinal);
    private readonly MacroNames?[] within;

    public UnresolvedNames(RecoveryResult result)
    {
        within = new MacroNames?[result.Source.LineCount];
        foreach (Problem problem in result.Program.Problems)
        {
            if (
                problem.Place.File == result.Program.Root
                && (
                    problem.Kind == Catalogue.UndefinedName
                    || problem.Kind == Catalogue.UnknownOperation
                    || problem.Kind == Catalogue.NotAnOperation
                )
            )
                Count(
                    unknown,
                    problem.Arguments[^1] is { Length: > 0 } last && problem.Kind == Catalogue.NotAnOperation
                        ? last
                        : problem.Arguments[0]
                );
        }

        MacroNames? body = null;
        for (int i = 0; i < result.Source.LineCount; i++)
        {
            LineSyntax syntax = LineSyntax.Of(result.Source[i]);
            // What a repair has put another name for.
            foreach (Doubt doubt in result.Doubts.At(i))
                if (doubt.Printed.Length > 0)
                    Count(unknown, doubt.Printed);
            if (syntax.Keyword == Keyword.Macro)
                body = new MacroNames();
            within[i] = body;
            for (int t = 0; t < syntax.EndOfCode; t++)
            {
                if (syntax.Tokens[t].Kind != TokenKind.Name)
                    continue;
                string name = syntax.TextOf(t);
                // What a repair has written was not read.
                if (!result.Doubts.At(i).Any(d => d.Printed.Length > 0 && d.Printed != name && IsNear(d.Printed, name)))
                    Count(read, name);
                if (body is null)
                    continue;
                Count(body.Read, name);
                if (syntax.Keyword is Keyword.Macro or Keyword.Local || t == syntax.LabelToken)
                    body.Own.Add(name);
            }

            if (syntax.Keyword == Keyword.EndMacro)
                body = null;
        }
    }

    /// <summary>Whether some name is used that is defined nowhere.</summary>
    public bool Any => unknown.Count > 0;

    /// <summary>Whether a definition that nobody uses may be that of such a name, misread: half of their characters agree.</summary>
    public bool MayBeDefinedBy(string name) =>
        unknown.Keys.Any(u =>
            Math.Abs(u.Length - name.Length) <= 1 && WordDistance.Of(u, name) * 2 <= Math.Max(u.Length, name.Length)
        );

    /// <summary>How often a name is in the program.</summary>
    public int TimesRead(string name) => read.GetValueOrDefault(name);

    /// <summary>Whether a name belongs to the macro that a line (from 0) is in: a parameter, or a label there.</summary>
    public bool IsOfMacro(string name, int line) => within[line] is { } body && body.Own.Contains(name);

    /// <summary>Whether such a name is there once only: what it is there for was misread, or it itself.</summary>
    public bool IsLoneInMacro(string name, int line) =>
        within[line] is { } body && body.Read.GetValueOrDefault(name) == 1;

    /// <summary>The unknown name that may have been the same as a known one on paper; null where there is none.</summary>
    /// <param name="name">The known name.</param>
    /// <param name="isDefined">Whether it is defined here; elsewhere a name that was read far more often is right.</param>
    public string? OtherOf(string name, bool isDefined)
    {
        foreach ((string other, int times) in unknown)
            if (IsNear(name, other) && (isDefined || TimesRead(name) < Outvotes * times))
                return other;
        return null;
    }

    private static void Count(Dictionary<string, int> counts, string name) =>
        counts[name] = counts.GetValueOrDefault(name) + 1;

    private sealed class MacroNames
    {
        public HashSet<string> Own { get; } = new(StringComparer.Ordinal);

        public Dictionary<string, int> Read { get; } = new(StringComparer.Ordinal);
    }

    private static bool IsNear(string a, string b)
    {
        if (a == b || a.Length < 2 || b.Length < 2)
            return false;
        if (GlyphConfusion.MayBe(a, b, static _ => true))
            return true;
        int least = Math.Min(a.Length, b.Length),
            most = least < 3 ? 0
            : least < 7 ? 1
            : 2;
        return Math.Abs(a.Length - b.Length) <= most && WordDistance.Of(a, b) <= most;
    }
}
