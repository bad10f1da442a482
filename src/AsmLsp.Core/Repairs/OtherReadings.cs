using System.Collections.Immutable;
using AsmLsp.Core.Doubts;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Repairs;

/// <summary>Gives a repair's doubt what the other repairs of the same problem would make of the line.</summary>
internal static class OtherReadings
{
    /// <summary>The repair with the alternatives in its doubt.</summary>
    public static Fix Add(Fix chosen, ImmutableArray<Fix> all)
    {
        SourceText text = chosen.File.Text;
        int line = text.PositionAt(chosen.Edits[0].Span.Start).Line;
        string before = DoubtMark.Remove(text[line].Text),
            taken = LineAfter(chosen, line) ?? before;
        var readings = ImmutableArray.CreateBuilder<string>();
        foreach (Fix other in all)
        {
            if (
                other == chosen
                || other.File != chosen.File
                || LineAfter(other, line) is not { } otherwise
                || otherwise == before
                || otherwise == taken
            )
                continue;
            string reading = DoubtReading.Of(otherwise) is { Length: > 0 } code ? code : Doubt.AsComment;
            if (Doubt.CanCarry(reading) && !readings.Contains(reading))
                readings.Add(reading);
        }

        return readings.Count == 0
            ? chosen
            : chosen with
            {
                Doubt = chosen.DoubtOrTitle with { Alternatives = readings.ToImmutable() },
            };
    }

    // What a repair makes of a line, without its doubt; null where it touches others.
    private static string? LineAfter(Fix fix, int line)
    {
        SourceText text = fix.File.Text;
        int start = text.LineStart(line),
            end = start + text[line].Text.Length;
        string after = text[line].Text;
        for (int i = fix.Edits.Length - 1; i >= 0; i--)
        {
            TextEdit edit = fix.Edits[i];
            if (edit.Span.Start < start || edit.Span.End > end || edit.NewText.AsSpan().IndexOfAny('\r', '\n') >= 0)
                return null;
            after = string.Concat(
                after.AsSpan(0, edit.Span.Start - start),
                edit.NewText,
                after.AsSpan(edit.Span.End - start)
            );
        }

        return DoubtMark.Remove(after);
    }
}
