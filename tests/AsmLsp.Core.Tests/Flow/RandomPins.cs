using AsmLsp.Core.Execution;

namespace AsmLsp.Core.Tests.Flow;

/// <summary>Special function registers that read as anything.</summary>
internal sealed class RandomPins(Random random) : IPeripherals
{
    public int Read(int address, int stored) => random.Next(256);

    public int Write(int address, int value) => value;
}
