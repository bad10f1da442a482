using System.Collections.Immutable;
using System.Globalization;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Bench;

/// <summary>The chip from above as SVG: pin 1 at the top left, numbers, names, and what each pin is after the start.</summary>
internal static class ChipDrawing
{
    private const int Width = 720,
        Row = 34,
        Top = 26,
        BodyLeft = 262,
        BodyRight = 458,
        LegLength = 18;

    public static void Write(HtmlText html, BenchCard card)
    {
        ImmutableArray<BenchPin> pins = card.Pins;
        int rows = (pins.Length + 1) / 2,
            bottom = Top + rows * Row,
            height = bottom + 14;
        html.Markup(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"<svg class=\"chip\" viewBox=\"0 0 {Width} {height}\" role=\"img\" aria-label=\""
                )
            )
            .Text($"{card.Device.Name} from above, with the state of each pin after the start")
            .Line("\">");
        Shape(
            html,
            $"<rect class=\"body\" x=\"{BodyLeft}\" y=\"{Top - 10}\" width=\"{BodyRight - BodyLeft}\" height=\"{rows * Row + 14}\" rx=\"8\"/>"
        );
        // The notch is at the end where pin 1 is.
        int middle = (BodyLeft + BodyRight) / 2;
        Shape(html, $"<path class=\"notch\" d=\"M {middle - 14} {Top - 10} A 14 14 0 0 0 {middle + 14} {Top - 10}\"/>");
        Shape(html, $"<text class=\"type\" x=\"{middle}\" y=\"{(Top + bottom) / 2}\">");
        html.Text(card.Device.Name).Line("</text>");
        for (int i = 0; i < pins.Length; i++)
            Pin(html, pins[i], isLeft: i < rows, row: i < rows ? i : pins.Length - 1 - i);
        html.Line("</svg>");
    }

    private static void Pin(HtmlText html, BenchPin pin, bool isLeft, int row)
    {
        int y = Top + row * Row + Row / 2 - 4;
        int edge = isLeft ? BodyLeft : BodyRight,
            legEnd = isLeft ? edge - LegLength : edge + LegLength,
            textAt = isLeft ? legEnd - 16 : legEnd + 16,
            numberAt = isLeft ? edge + 8 : edge - 8;
        string side = isLeft ? "left" : "right";
        html.Line($"<g class=\"pin {pin.Kind}\">");
        Shape(
            html,
            $"<rect class=\"leg\" x=\"{Math.Min(edge, legEnd)}\" y=\"{y - 6}\" width=\"{LegLength}\" height=\"12\"/>"
        );
        Arrow(html, pin.Kind, legEnd, y, isLeft);
        Shape(
            html,
            $"<text class=\"number {(isLeft ? "right" : "left")}\" x=\"{numberAt}\" y=\"{y + 4}\">{pin.Number}</text>"
        );
        Shape(html, $"<text class=\"name {side}\" x=\"{textAt}\" y=\"{y}\">");
        html.Text(Shown(pin)).Line("</text>");
        Shape(html, $"<text class=\"role {side}\" x=\"{textAt}\" y=\"{y + 13}\">");
        html.Text(pin.Programming is { } programming && pin.Role.Length > 0 ? $"{pin.Role} · {programming}" : pin.Role)
            .Line("</text>");
        html.Line("</g>");
    }

    // An arrow into the chip for inputs, out of it for outputs, both for both.
    private static void Arrow(HtmlText html, string kind, int x, int y, bool isLeft)
    {
        int away = isLeft ? -1 : 1;
        if (kind is "in" or "both")
            Shape(
                html,
                $"<path class=\"arrow\" d=\"M {x + away * 12} {y - 5} L {x + away * 3} {y} L {x + away * 12} {y + 5} Z\"/>"
            );
        if (kind == "out")
            Shape(
                html,
                $"<path class=\"arrow\" d=\"M {x + away * 3} {y - 5} L {x + away * 12} {y} L {x + away * 3} {y + 5} Z\"/>"
            );
    }

    private static string Shown(BenchPin pin)
    {
        string functions = string.Join(" ", pin.Functions);
        return functions.Length <= 30 ? functions : functions[..functions.LastIndexOf(' ', 29)] + " …";
    }

    private static void Shape(HtmlText html, FormattableString markup) =>
        html.Line(markup.ToString(CultureInfo.InvariantCulture));
}
