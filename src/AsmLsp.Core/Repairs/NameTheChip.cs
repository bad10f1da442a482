using System.Collections.Immutable;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>
/// Names the chip at the top of a program that uses its registers without saying which chip it is for. The comments may
/// speak of one; that it is this program's chip, and not one that it replaces, is a guess.
/// </summary>
internal sealed class NameTheChip : FixProvider
{
    // The chips that most printed projects of the years were built with (common practice), likeliest first.
    private static readonly string[] Likely = ["16F84A", "16F628A", "16F877A", "16F84"];

    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.ChipNotNamed, Catalogue.ChipNeeded];

    internal override void Offer(FixRequest request)
    {
        if (request.File != request.Program.Root)
            return;
        List<string> named = NamedInComments(request.Text);
        foreach (string chip in named.Count > 0 ? named : [.. Likely])
            if (DeviceCatalog.Find(chip) is not null)
                Add(request, chip, named.Count == 1 ? "only a comment names this chip" : null);
    }

    private static void Add(FixRequest request, string chip, string? doubt)
    {
        SourceText text = request.Text;
        string name = chip.ToLowerInvariant();
        string indent = ColumnStyle.Of(text).Indent;
        int line = 0;
        while (line + 1 < text.LineCount && LineSyntax.Of(text[line]).IsBlank)
            line++;
        string lines = $"{indent}list p={name}{text.UsualEnding}{indent}include <p{name}.inc>{text.UsualEnding}";
        request.Guess($"Name the chip: {chip.ToUpperInvariant()}", doubt, request.Edit(line, 0, 0, lines));
    }

    // Words such as 'PIC16F84A' or '16C84' in comments, each chip once.
    private static List<string> NamedInComments(SourceText text)
    {
        var found = new List<string>();
        foreach (TextLine line in text.Lines)
        {
            int comment = line.Text.IndexOf(';', StringComparison.Ordinal);
            if (comment < 0)
                continue;
            for (int at = comment + 1; at + 3 < line.Text.Length; at++)
            {
                if (!char.IsAsciiDigit(line.Text[at]) || char.IsAsciiDigit(line.Text[at - 1]))
                    continue;
                int end = at;
                while (end < line.Text.Length && char.IsAsciiLetterOrDigit(line.Text[end]))
                    end++;
                string word = line.Text[at..end].ToUpperInvariant();
                if (
                    word.Length >= 4
                    && word.StartsWith('1')
                    && word.AsSpan(2).ContainsAny('C', 'F')
                    && DeviceCatalog.Find(word) is not null
                    && !found.Contains(word)
                )
                    found.Add(word);
                at = end;
            }
        }

        return found;
    }
}
