using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Hears of every use and definition of a name while a program is assembled.</summary>
internal interface IReferenceSink
{
    void BeginPass();

    /// <summary>A name of the program used or defined at a place.</summary>
    void Add(Symbol symbol, SourcePlace place, Expansion? via, bool isDefinition);

    /// <summary>A built-in name of the chip used at a place.</summary>
    void AddBuiltIn(string name, SourcePlace place, Expansion? via);
}
