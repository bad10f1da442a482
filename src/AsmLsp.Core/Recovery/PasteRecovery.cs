using System.Collections.Immutable;
using AsmLsp.Core.Printed;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Recovery.Audit;
using AsmLsp.Core.Recovery.Listings;
using AsmLsp.Core.Recovery.Listings.Gutter;
using AsmLsp.Core.Recovery.Listings.Ocr;
using AsmLsp.Core.Recovery.Pastes;
using AsmLsp.Core.Recovery.Results;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Recovery;

/// <summary>
/// Turns a pasted text into source. A paste is a document whose paper is lost: what was in front of the lines and around
/// them is found as on a page. A piece too small to be distinguished from an example in prose is taken as program from its first line to its last.
/// </summary>
public static class PasteRecovery
{
    /// <summary>The text as a document, its rows marked where OCR has made them, and the text's line (from 1) of each row.</summary>
    public static (PrintedDocument Document, ImmutableDictionary<PrintedPlace, int> LineOf) Lay(SourceText pasted)
    {
        (PrintedDocument document, var lineOf) = PastedText.Lay(pasted);
        return (OcrPaste.Mark(document), lineOf);
    }

    /// <summary>Recovers a program from a pasted text.</summary>
    public static RecoveryResult Run(SourceText pasted, DocumentRecoveryOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(pasted);
        (SourceText cleaned, ImmutableArray<string> notes) = PasteCleaner.Clean(pasted);
        return WithNotes(Recover(cleaned, options ?? DocumentRecoveryOptions.Default), notes);
    }

    // What was taken off is about the whole text; it is no doubt.
    private static RecoveryResult WithNotes(RecoveryResult result, ImmutableArray<string> notes) =>
        notes.IsEmpty
            ? result
            : result with
            {
                Entries =
                [
                    .. notes.Select(static n => new RecoveryEntry(
                        0,
                        0,
                        0,
                        Severity.Information,
                        DocumentCodes.CopyMarks,
                        n
                    )),
                    .. result.Entries,
                ],
            };

    private static RecoveryResult Recover(SourceText pasted, DocumentRecoveryOptions options)
    {
        (PrintedDocument document, var lineOf) = Lay(pasted);
        // Pages are chosen where the text has some.
        if (document.Pages is [{ Number: 0 }])
            options = options with { Pages = [] };
        if (DocumentListings.Find(document, options.Pages).IsEmpty)
            return Audited(TextRecovery.Run(pasted, options.Text), pasted);
        RecoveryResult result = DocumentRecovery.Run(document, options);
        // Where the places of a paste mislead, its words may say more: they do when all of the text makes a program without an error.
        bool isWhole =
            options.Listing is null
            && !options.KeepProse
            && options.Pages.IsEmpty
            && result.Files.IsEmpty
            && !document.Pages.Any(static p => p.Lines.Any(static l => l.IsOcr))
            && !result.Entries.Any(static e => e.Code is DocumentCodes.LeftGutter or DocumentCodes.SeveralListings);
        if (
            isWhole
            && result.Program.HasErrors
            && TextRecovery.Run(pasted, options.Text) is { Program.HasErrors: false } read
        )
            return Audited(read, pasted);
        return WithLines(result, lineOf) with
        {
            Files = [.. result.Files.Select(f => f with { Result = WithLines(f.Result, lineOf) })],
        };
    }

    // The places of a paste are its lines, and it has no pages.
    private static RecoveryResult WithLines(RecoveryResult result, IReadOnlyDictionary<PrintedPlace, int> lineOf) =>
        result with
        {
            Origins = [.. result.Origins.Select(o => OfText(o, lineOf))],
            Entries = [.. result.Entries.Select(static e => e.Page is 0 ? e with { Page = null } : e)],
        };

    // The rows of a text that was not laid out as a page are its lines.
    private static RecoveryResult Audited(RecoveryResult result, SourceText pasted)
    {
        var rows = ImmutableArray.CreateBuilder<PrintedLine>();
        int number = 0;
        foreach (TextLine line in pasted.Lines)
            rows.Add(new PrintedLine(line.Text.TrimEnd(), 0, ++number, 0, number, "", 10, true));
        return Auditor.Check([new PrintedPage(0, 0, 0, rows.ToImmutable(), [])], result);
    }

    private static LineOrigin OfText(LineOrigin origin, IReadOnlyDictionary<PrintedPlace, int> lineOf)
    {
        LineOrigin found = LineOrigin.None;
        foreach (PrintedPlace place in origin.Places)
            if (lineOf.TryGetValue(place, out int line))
                found = found.With(LineOrigin.At(0, line));
        return found;
    }
}
