using AsmLsp.Core.Devices;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings;

/// <summary>At the name of a configuration setting: the other settings of its field, each with what it means.</summary>
internal sealed class ChangeSetting : RefactoringProvider
{
    public override string Name => "change-setting";

    public override RefactoringKind Kind => RefactoringKind.Rewrite;

    internal override void Offer(RefactoringRequest request)
    {
        if (ConfigurationLine.At(request) is not { } line)
            return;
        LineSyntax syntax = request.Syntax(request.FirstLine);
        var names = new ProgramNames(request.Program);
        for (int i = line.Operand.FirstToken; i < line.Operand.EndToken; i++)
        {
            SyntaxToken token = syntax.Tokens[i];
            if (token.Kind != TokenKind.Name || !request.IsAt(token.Span) || !names.IsBuiltIn(syntax.TextOf(i)))
                continue;
            if (
                line.Device.Symbols.FindAnyCase(syntax.TextOf(i))
                is not { Kind: DeviceSymbolKind.ConfigurationSetting, Field: { } field } now
            )
                continue;
            foreach (ConfigSetting setting in field.Settings)
            {
                if (
                    setting == now.Setting
                    || setting.Names.FirstOrDefault(n =>
                        names.IsBuiltIn(n) && line.Device.Symbols.Find(n)?.Setting == setting
                    )
                        is not { } name
                )
                    continue;
                request.Add(
                    name,
                    $"Set {field.Name} to {name}: {setting.Meaning}{Caution(line.Device, field, setting)}",
                    WordEffect.Changes,
                    () =>
                    {
                        var plan = new RefactoringPlan();
                        plan.Replace(request.File, request.FirstLine, token.Span, name);
                        return plan;
                    }
                );
            }

            return;
        }
    }

    private static string Caution(Device device, ConfigField field, ConfigSetting setting) =>
        field.Role switch
        {
            ConfigRole.CodeProtection when setting.State is ConfigState.On or ConfigState.Partly =>
                device.IsOneTimeProgrammable
                    ? "; careful: can't be read back, and may never come off again"
                    : "; careful: can't be read back, only erased",
            ConfigRole.ResetPin when setting.State == ConfigState.Off => "; careful: no reset from outside",
            ConfigRole.LowVoltageProgramming when setting.State == ConfigState.On && field.Pin is not null =>
                $"; careful: takes pin {field.Pin}",
            _ => "",
        };
}
