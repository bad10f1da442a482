namespace AsmLsp.Core.Assembly;

/// <summary>What an expression is worth: a 32-bit number, or nothing yet.</summary>
internal readonly record struct Value(int Number, bool IsKnown)
{
    public static Value Unknown { get; } = new(0, false);

    public static implicit operator Value(int number) => new(number, true);
}
