using System.Globalization;
using System.Text;

namespace AsmLsp.Core.Text;

/// <summary>Numbers as a person writes them: <c>1-3, 7</c>.</summary>
public static class NumberRanges
{
    /// <summary>The numbers in ascending order, each once; three and more in a row as a range.</summary>
    public static string Of(IEnumerable<int> numbers)
    {
        ArgumentNullException.ThrowIfNull(numbers);
        int[] sorted = [.. numbers.Distinct().Order()];
        var text = new StringBuilder();
        for (int i = 0; i < sorted.Length; )
        {
            int first = i;
            while (i + 1 < sorted.Length && sorted[i + 1] == sorted[i] + 1)
                i++;
            if (text.Length > 0)
                text.Append(", ");
            text.Append(CultureInfo.InvariantCulture, $"{sorted[first]}");
            if (i > first)
                text.Append(i == first + 1 ? ", " : "-").Append(CultureInfo.InvariantCulture, $"{sorted[i]}");
            i++;
        }

        return text.ToString();
    }
}
