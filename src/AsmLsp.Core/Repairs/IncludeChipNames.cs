using System.Collections.Immutable;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Inserts the line that brings the chip's names.</summary>
internal sealed class IncludeChipNames : FixProvider
{
    public override ImmutableArray<ProblemKind> Answers { get; } = [Catalogue.ChipNamesNotIncluded];

    internal override void Offer(FixRequest request)
    {
        if (
            request.Program.DevicePlace is not { } place
            || place.File != request.File
            || place.Line + 1 >= place.File.Text.LineCount
        )
            return;
        SourceText text = request.Text;
        request.Certain(
            $"Include the names of {request.Problem.Arguments[1]}",
            request.Edit(
                place.Line + 1,
                0,
                0,
                $"{ColumnStyle.Of(text).Indent}include <{request.Problem.Arguments[2]}>{text.UsualEnding}"
            )
        );
    }
}
