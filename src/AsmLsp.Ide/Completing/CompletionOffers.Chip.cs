using AsmLsp.Core.Devices;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Ide.Completing;

/// <summary>What depends on the chip: its name, its header, its configuration.</summary>
internal sealed partial class CompletionOffers
{
    private void OfList(CompletionPlace place)
    {
        string part = place.Before.Text[(place.Before.Text.LastIndexOfAny([' ', '\t', ',']) + 1)..].Trim();
        if (
            part.StartsWith("p=", StringComparison.OrdinalIgnoreCase)
            || part.StartsWith("processor=", StringComparison.OrdinalIgnoreCase)
            || place.OperandText.TrimEnd().EndsWith("p =", StringComparison.OrdinalIgnoreCase)
        )
        {
            Chips(name => name[3..].ToLowerInvariant());
        }
        else if (part.StartsWith("r=", StringComparison.OrdinalIgnoreCase))
        {
            Words("dec", "hex", "oct");
        }
        else if (part.Length == 0)
        {
            Add("p=", OfferKind.ListPart, "the chip", 0, null);
            Add("r=", OfferKind.ListPart, "base of bare numbers: dec, hex or oct", 0, null);
        }
    }

    private void Headers(CompletionPlace place)
    {
        bool quoted = place.OperandText.Length > 0 && place.OperandText[0] is '<' or '"';
        Chips(name => quoted ? $"p{name[3..].ToLowerInvariant()}.inc" : $"<p{name[3..].ToLowerInvariant()}.inc>");
        foreach (string name in filesBeside())
        {
            Add(quoted ? name : $"\"{name}\"", OfferKind.File, "file beside this one", 0, null);
        }
    }

    // Field by field, found by name or meaning: the field of the setting at the cursor alone, else those that the line does not set yet.
    private void Configuration(CompletionPlace place)
    {
        if (file.Analysis.Device is not { } device)
        {
            return;
        }

        var set = new HashSet<ConfigField>();
        ConfigurationWord? word = null;
        foreach (
            LineSyntax part in (ReadOnlySpan<LineSyntax>)[place.Before, LineSyntax.Parse(" __config 0" + place.After)]
        )
        {
            foreach (SyntaxToken token in part.Tokens)
            {
                if (
                    token.Kind == TokenKind.Name
                    && device.Symbols.FindAnyCase(part.Text.Substring(token.Start, token.Length)) is { } symbol
                )
                {
                    word ??= symbol.Word;
                    if (symbol.Field is { } field)
                    {
                        set.Add(field);
                    }
                }
            }
        }

        ConfigField? here = device.Symbols.FindAnyCase(place.Written)?.Field;
        // After a setting the sign that joins is put in as well.
        string join = place.OperandText.TrimEnd() is [.., not ('&' or '(' or ',' or '~')] ? "& " : "";
        int rank = 0;
        foreach (
            ConfigurationWord configuration in device.ConfigurationWords.Where(configuration =>
                word is null || word == configuration
            )
        )
        {
            foreach (
                ConfigField field in configuration.Fields.Where(field =>
                    here is null ? !set.Contains(field) : field == here
                )
            )
            {
                foreach (
                    ConfigSetting setting in field.Settings.Where(setting =>
                        setting.Names.Length > 0 && taken.Add(setting.Names[0])
                    )
                )
                {
                    offers.Add(
                        new(
                            setting.Names[0],
                            OfferKind.Setting,
                            $"{field.Name}: {setting.Meaning}",
                            Math.Min(rank, 98),
                            WordTopic.Name
                        )
                        {
                            Insert = join + setting.Names[0],
                            AlsoFoundBy = $"{field.Name} {setting.Meaning}",
                        }
                    );
                }

                rank++;
            }
        }

        if (device.ConfigurationWords.Length > 1 && place.Operand == 0 && place.OperandText.Length == 0)
        {
            Add("_CONFIG1", OfferKind.Constant, "address of the first configuration word", 0, WordTopic.Name);
            Add("_CONFIG2", OfferKind.Constant, "address of the second configuration word", 0, WordTopic.Name);
        }
    }

    private void Chips(Func<string, string> spell)
    {
        foreach (string name in DeviceCatalog.Names)
        {
            Add(spell(name), OfferKind.Chip, name, 1, null);
        }
    }
}
