using AsmLsp.Core.Assembly;
using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Flow.Checks;

/// <summary>A field of the configuration as the program itself sets it; what the program leaves out is not judged.</summary>
internal static class ConfigurationPlace
{
    /// <summary>The setting of a field with the place of its word in the source, or null where the program sets none.</summary>
    public static (ConfigSetting Setting, SourcePlace Place)? Of(FlowGraph graph, ConfigRole role)
    {
        if (graph.Walk.Device?.FindField(role) is not { } field)
            return null;
        if (
            !graph.Program.Image.TryGet(field.Word.Address, out ushort word, out WordOrigin origin)
            || field.Field.SettingFor(word) is not { } setting
        )
            return null;
        (SourceFile file, int line) = origin.Outermost;
        LineSyntax syntax = graph.Program.SyntaxOf(file, line);
        return (
            setting,
            new SourcePlace(file, line, syntax.OperandSpan.Length > 0 ? syntax.OperandSpan : syntax.CodeSpan)
        );
    }
}
