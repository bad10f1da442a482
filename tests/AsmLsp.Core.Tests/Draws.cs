using System.Globalization;
using CsCheck;

namespace AsmLsp.Core.Tests;

/// <summary>
/// Random cases that are the same in every run, so that a change is to blame where a test fails. RELIST_DRAWS=N looks at N times as many, others each
/// time RELIST_DRAWS_FROM changes.
/// </summary>
internal static class Draws
{
    // Cases where a check does not say how many.
    private const int Usual = 100;

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

    /// <summary>As <see cref="Of"/>, in the words of the library whose generators these are; there, cases would differ from run to run.</summary>
    public static void Draw<T>(this Gen<T> gen, Action<T> check, int iter = Usual) => Of(gen, iter, check);

    /// <inheritdoc cref="Draw{T}(Gen{T}, Action{T}, int)"/>
    public static void Draw<T>(this Gen<T> gen, Func<T, bool> check, int iter = Usual) =>
        Of(gen, iter, drawn => Assert.True(check(drawn), $"{drawn}"));

    /// <inheritdoc cref="Draw{T}(Gen{T}, Action{T}, int)"/>
    public static void Draw<TA, TB>(this Gen<(TA, TB)> gen, Action<TA, TB> check, int iter = Usual) =>
        Of(gen, iter, drawn => check(drawn.Item1, drawn.Item2));

    /// <inheritdoc cref="Draw{T}(Gen{T}, Action{T}, int)"/>
    public static void Draw<TA, TB, TC>(this Gen<(TA, TB, TC)> gen, Func<TA, TB, TC, bool> check, int iter = Usual) =>
        Of(gen, iter, drawn => Assert.True(check(drawn.Item1, drawn.Item2, drawn.Item3), $"{drawn}"));

    /// <inheritdoc cref="Draw{T}(Gen{T}, Action{T}, int)"/>
    public static void Draw<TA, TB, TC, TD>(
        this Gen<(TA, TB, TC, TD)> gen,
        Action<TA, TB, TC, TD> check,
        int iter = Usual
    ) => Of(gen, iter, drawn => check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4));

    /// <inheritdoc cref="Draw{T}(Gen{T}, Action{T}, int)"/>
    public static void Draw<TA, TB, TC, TD>(
        this Gen<(TA, TB, TC, TD)> gen,
        Func<TA, TB, TC, TD, bool> check,
        int iter = Usual
    ) => Of(gen, iter, drawn => Assert.True(check(drawn.Item1, drawn.Item2, drawn.Item3, drawn.Item4), $"{drawn}"));

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
