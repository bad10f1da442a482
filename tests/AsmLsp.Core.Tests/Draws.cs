using System.Globalization;
using CsCheck;

namespace AsmLsp.Core.Tests;

/// <summary>
/// Random cases that are the same in every run, so that a change is to blame where a test fails. RELIST_DRAWS=N looks at N times as many, others each
/// time RELIST_DRAWS_FROM changes.
/// </summary>
internal static class Draws
{
    /// <summary>Holds a check over <paramref name="count"/> cases; a failure names its case.</summary>
    public static void Of<T>(Gen<T> gen, int count, Action<T> check)
    {
        int times = Number("RELIST_DRAWS", 1);
        uint from = (uint)Number("RELIST_DRAWS_FROM", 0) * 1_000_000;
        for (uint i = 0; i < count * times; i++)
        {
            T drawn = gen.Generate(new PCG(from + i, 1), null, out _);
            try
            {
                check(drawn);
            }
            catch (Exception e)
            {
                throw new InvalidOperationException(
                    string.Create(CultureInfo.InvariantCulture, $"Case {from + i}: {e.Message}"),
                    e
                );
            }
        }
    }

    private static int Number(string variable, int otherwise) =>
        int.TryParse(
            Environment.GetEnvironmentVariable(variable),
            NumberStyles.None,
            CultureInfo.InvariantCulture,
            out int number
        )
            ? number
            : otherwise;
}
