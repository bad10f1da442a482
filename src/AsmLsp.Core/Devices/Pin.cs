using System.Collections.Immutable;

namespace AsmLsp.Core.Devices;

/// <summary>A pin of the dual-in-line package.</summary>
public sealed class Pin
{
    internal Pin(int number, ImmutableArray<string> functions, bool isOpenDrain, bool isInputOnly)
    {
        Number = number;
        Functions = functions;
        IsOpenDrain = isOpenDrain;
        IsInputOnly = isInputOnly;
    }

    /// <summary>The number printed in the data sheet's pin diagram, from 1.</summary>
    public int Number { get; }

    /// <summary>The first of <see cref="Functions"/>, normally the port bit or the supply.</summary>
    public string Name => Functions[0];

    /// <summary>Everything the pin can be, in the order of the data sheet; a leading <c>/</c> means a bar.</summary>
    public ImmutableArray<string> Functions { get; }

    /// <summary>The pin only pulls low: it needs an outside pull-up resistor to go high.</summary>
    public bool IsOpenDrain { get; }

    /// <summary>The pin can't be an output.</summary>
    public bool IsInputOnly { get; }
}
