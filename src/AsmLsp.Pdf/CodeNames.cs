using System.Globalization;

namespace AsmLsp.Pdf;

/// <summary>
/// The numbers in the names that a font gives to its codes: <c>a65</c>, <c>c41</c>, <c>g7</c>. Programs that make such names
/// know no better ones.
/// </summary>
internal sealed class CodeNames
{
    private readonly Dictionary<int, int> numbers = [];

    public static CodeNames None { get; } = new([]);

    /// <summary>Takes the names of a font; where they are not all of one form, nothing is known.</summary>
    public CodeNames(List<(int Code, string Name)> names)
    {
        string? form = null;
        foreach ((int code, string name) in names)
        {
            if (name is ".notdef")
                continue;
            int digits = name.Length;
            while (digits > 0 && char.IsAsciiDigit(name[digits - 1]))
                digits--;
            string start = name[..digits];
            bool isNumbered =
                digits < name.Length
                && name.Length - digits <= 5
                && start.Length <= 5
                && start.All(char.IsAsciiLetter)
                && (form ??= start) == start;
            if (!isNumbered)
            {
                numbers.Clear();
                return;
            }

            numbers[code] = int.Parse(name.AsSpan(digits), CultureInfo.InvariantCulture);
        }

        // So the fonts of TeX are named that come as pictures of letters.
        AreCodes = numbers.Count > 0 && form is "a" && numbers.All(static n => n.Key == n.Value);
    }

    /// <summary>Whether each name is the letter a and the code itself.</summary>
    public bool AreCodes { get; }

    /// <summary>The number in a code's name, or the code itself where names say nothing.</summary>
    public int NumberOf(int code) => numbers.GetValueOrDefault(code, code);
}
