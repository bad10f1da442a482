using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Text;

/// <summary>Writes a page that is HTML and well-formed XML at once; all text goes through <see cref="Escape"/>.</summary>
public sealed class HtmlText
{
    private readonly StringBuilder text = new();

    /// <summary>Puts in markup of this program's own.</summary>
    public HtmlText Markup(string markup)
    {
        text.Append(markup);
        return this;
    }

    /// <summary>Puts in markup of this program's own and ends the line.</summary>
    public HtmlText Line(string markup)
    {
        text.Append(markup).Append('\n');
        return this;
    }

    /// <summary>Puts in text from a document or a message.</summary>
    public HtmlText Text(string content)
    {
        text.Append(Escape(content));
        return this;
    }

    /// <summary>Puts in text between two tags.</summary>
    public HtmlText Element(string open, string content, string name)
    {
        text.Append(open).Append(Escape(content)).Append("</").Append(name).Append('>');
        return this;
    }

    /// <summary>A number.</summary>
    public HtmlText Number(int number)
    {
        text.Append(number.ToString(CultureInfo.InvariantCulture));
        return this;
    }

    /// <inheritdoc/>
    public override string ToString() => text.ToString();

    /// <summary>
    /// Text as it may be in an element or a quoted attribute. What no page can hold (XML 1.0, section 2.2) or what would turn the order of
    /// the line around (Unicode Standard Annex 9) is shown by its number.
    /// </summary>
    public static string Escape(string content)
    {
        var safe = new StringBuilder(content.Length + 16);
        for (int i = 0; i < content.Length; i++)
        {
            char c = content[i];
            if (char.IsHighSurrogate(c) && i + 1 < content.Length && char.IsLowSurrogate(content[i + 1]))
            {
                safe.Append(c).Append(content[++i]);
                continue;
            }

            switch (c)
            {
                case '<':
                    safe.Append("&lt;");
                    break;
                case '>':
                    safe.Append("&gt;");
                    break;
                case '&':
                    safe.Append("&amp;");
                    break;
                case '"':
                    safe.Append("&#34;");
                    break;
                case '\'':
                    safe.Append("&#39;");
                    break;
                case '\t' or '\n':
                    safe.Append(c);
                    break;
                default:
                    if (VisibleText.IsHidden(c) || char.IsSurrogate(c))
                        safe.Append(VisibleText.Number(c));
                    else
                        safe.Append(c);
                    break;
            }
        }

        return safe.ToString();
    }
}
