using AsmLsp.Core.Printed;
using AsmLsp.Core.Shapes;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Recovery.Listings.Rows;

/// <summary>One row of a listing as the classification sees it: its words, and where they are on the page.</summary>
internal sealed class Row
{
    /// <summary>A row of a listing, its gutter taken off.</summary>
    public Row(ListingLine line)
    {
        Line = line;
        // A dash of typesetting is a minus, as far as it is code.
        Text = AssemblyLook.Plain(line.Text).Replace('\u2013', '-').Replace('\u2014', '-').Replace('\u2212', '-');
        Syntax = LineSyntax.Parse(Text);
        while (Column < Text.Length && Lexer.IsBlank(Text[Column]))
            Column++;
        int codeEnd = Text.Length;
        if (Syntax.CommentToken >= 0)
        {
            CommentStart = codeEnd = Syntax.Tokens[Syntax.CommentToken].Start;
            int text = CommentStart;
            while (text < Text.Length && Text[text] is ';' or ' ')
                text++;
            CommentColumn = text;
        }

        Code = Text[Math.Min(Column, codeEnd)..codeEnd].TrimEnd();
        (Extent, FirstWordExtent, Blank) = Measure(line.Printed, Text, Column);
        if (line.Length > 0)
            Extent = line.Length;
    }

    /// <summary>The line of the listing.</summary>
    public ListingLine Line { get; }

    /// <summary>Its text with plain quotes and blanks.</summary>
    public string Text { get; }

    public LineSyntax Syntax { get; }

    /// <summary>The column of its first visible character.</summary>
    public int Column { get; }

    /// <summary>What is in front of its comment, without blanks around it.</summary>
    public string Code { get; }

    /// <summary>The column of its comment's sign, or -1.</summary>
    public int CommentStart { get; } = -1;

    /// <summary>The column of its comment's first letter, or -1.</summary>
    public int CommentColumn { get; } = -1;

    /// <summary>How far it reaches: in characters, or in points where the type has no columns.</summary>
    public double Extent { get; }

    /// <summary>The width of its first word in the same unit.</summary>
    public double FirstWordExtent { get; }

    /// <summary>The width of a blank in the same unit.</summary>
    public double Blank { get; }

    public bool IsBlank => Column == Text.Length;

    public bool HasComment => CommentStart >= 0;

    /// <summary>Whether it is a comment and nothing else.</summary>
    public bool IsComment => HasComment && Code.Length == 0;

    /// <summary>Whether it is read at all: printed, and no prose kept by wish.</summary>
    public bool IsRow => Line.Printed is not null && !Line.IsProse && !IsBlank;

    /// <summary>Whether an address or a word of its own is printed beside it.</summary>
    public bool HasWord => Line.HasWord || Line.Address >= 0;

    /// <summary>Whether the document draws a blank after its last character.</summary>
    public bool EndsInBlank => (Line.LastPiece ?? Line.Printed)?.EndsInBlank ?? false;

    /// <summary>Whether it is known how far it reached when it was wrapped: nothing was joined to it, or what the page broke off again.</summary>
    public bool IsMeasured => Line.Rests.IsNone || Line.Length > 0;

    /// <summary>How many characters a line of even type has on paper.</summary>
    public static double LengthOf(ListingLine line) =>
        line.Length > 0 ? line.Length : line.Printed?.Text.TrimEnd().Length ?? 0;

    public int TextColumn => Line.Printed?.TextColumn ?? 0;

    /// <summary>Whether it ends in a run of one sign: a ruler never continues in words.</summary>
    public bool EndsInRuler
    {
        get
        {
            ReadOnlySpan<char> text = Text.AsSpan().TrimEnd();
            return text.Length >= 4
                && !char.IsLetterOrDigit(text[^1])
                && text[^1] != '.'
                && text[^4..].IndexOfAnyExcept(text[^1]) < 0;
        }
    }

    /// <summary>Whether it is made of signs alone, as the rest of a ruler or a piece of a drawing is.</summary>
    public bool IsSigns
    {
        get
        {
            foreach (char c in Text)
                if (char.IsLetterOrDigit(c) || c == ';')
                    return false;
            return !IsBlank;
        }
    }

    private static (double Extent, double FirstWord, double Blank) Measure(
        PrintedLine? printed,
        string text,
        int column
    )
    {
        if (printed is null)
            return (0, 0, 1);
        int end = text.AsSpan(column).IndexOf(' ');
        int letters = end < 0 ? text.Length - column : end;
        if (printed.IsMonospaced || printed.CharacterStarts.Length < 2)
            return (printed.Text.TrimEnd().Length, letters, 1);
        string shown = printed.Text.TrimEnd();
        int first = 0;
        while (first < shown.Length && shown[first] == ' ')
            first++;
        int last = Math.Min(shown.Length, printed.CharacterStarts.Length) - 1;
        double pitch =
            last > first ? (printed.CharacterStarts[last] - printed.CharacterStarts[first]) / (last - first) : 0;
        return (printed.CharacterStarts[last] + pitch, letters * pitch, pitch / 2);
    }
}
