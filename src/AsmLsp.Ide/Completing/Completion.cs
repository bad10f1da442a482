using System.Collections.Immutable;
using AsmLsp.Core.Text;

namespace AsmLsp.Ide.Completing;

/// <summary>What an offer is.</summary>
public enum OfferKind
{
    /// <summary>A word of the language: an instruction, a shorthand, a directive, a fixed word in its operands.</summary>
    Word,

    /// <summary>A macro of the program.</summary>
    Macro,

    /// <summary>A label, or a name that ought to be one.</summary>
    Label,

    /// <summary>A register of the chip, or a variable of the program.</summary>
    Register,

    /// <summary>A name for a value, or for a text.</summary>
    Constant,

    /// <summary>A bit of a register.</summary>
    Bit,

    /// <summary>Where a result goes.</summary>
    Destination,

    /// <summary>A setting of the configuration.</summary>
    Setting,

    /// <summary>A part of <c>list</c>.</summary>
    ListPart,

    /// <summary>A chip, or the header that names one.</summary>
    Chip,

    /// <summary>A file.</summary>
    File,
}

/// <summary>One thing that can be written at a place.</summary>
/// <param name="Text">What a list shows.</param>
/// <param name="Kind">What it is.</param>
/// <param name="Detail">A few words beside it, or null.</param>
/// <param name="Rank">What fits best comes first: 0 before 1 before 2, below 100.</param>
/// <param name="Topic">What to look up for its documentation, or null.</param>
public sealed record Offer(string Text, OfferKind Kind, string? Detail, int Rank, WordTopic? Topic)
{
    /// <summary>What is put in.</summary>
    public string Insert { get; init; } = Text;

    /// <summary>Words by which it is found as well, or null.</summary>
    public string? AlsoFoundBy { get; init; }
}

/// <summary>What can be written at a place.</summary>
/// <param name="Replaced">The word that an offer replaces, empty where there is none yet; columns of the line.</param>
/// <param name="Offers">What fits, each text once.</param>
public sealed record CompletionResult(TextSpan Replaced, ImmutableArray<Offer> Offers);

/// <summary>Completion: what fits the place, in the case that the program is written in.</summary>
public static class Completion
{
    /// <summary>What can be written at a place.</summary>
    /// <param name="file">The file.</param>
    /// <param name="at">The place.</param>
    /// <param name="filesBeside">The names of the files beside it that an include may mean; asked where they fit.</param>
    public static CompletionResult At(ProgramFile file, LinePosition at, Func<IEnumerable<string>>? filesBeside = null)
    {
        var place = CompletionPlace.At(file, at);
        List<Offer> offers = new CompletionOffers(file, filesBeside ?? (static () => [])).For(place);
        if (place.Kind != PlaceKind.Start)
        {
            return new(place.Word, [.. offers]);
        }

        // In column 1 an operation gets the indent that the file's other operations have.
        string indent = ProgramStyle.Of(file).Indent;
        return new(
            place.Word,
            [
                .. offers.Select(offer =>
                    offer.Topic is null || offer.Text.StartsWith('#')
                        ? offer
                        : offer with
                        {
                            Insert = indent + offer.Text,
                        }
                ),
            ]
        );
    }
}
