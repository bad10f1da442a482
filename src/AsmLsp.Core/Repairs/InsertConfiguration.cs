using System.Collections.Immutable;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Inserts a configuration line that says what the blank word means, ready to be changed.</summary>
internal sealed class InsertConfiguration : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.NoConfiguration];

    internal override void Offer(FixRequest request)
    {
        SourceText text = request.Text;
        ColumnStyle style = ColumnStyle.Of(text);
        int line = Math.Min(request.Line + 1, text.LineCount - 1);
        // After the lines that name the chip and bring its names.
        for (int i = line; i < Math.Min(line + 8, text.LineCount); i++)
        {
            if (LineSyntax.Of(text[i]).Has(WordTraits.Head))
                line = Math.Min(i + 1, text.LineCount - 1);
        }

        string meaning = request
            .Problem.Arguments[1]
            .Replace("\r", " ", StringComparison.Ordinal)
            .Replace("\n", " ", StringComparison.Ordinal);
        request.Guess(
            "Insert a configuration line with the blank word, to be changed",
            null,
            request.Edit(
                line,
                0,
                0,
                $"{style.Indent}{OperationWords.Spell(Keyword.Configuration)} 0x3FFF{style.Gap(0, 8)}; {meaning}{text.UsualEnding}"
            )
        );
    }
}
