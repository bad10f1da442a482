using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;

namespace AsmLsp.LanguageServer.Protocol;

/// <summary>A number or a text, as progress tokens and diagnostic codes may be.</summary>
[JsonConverter(typeof(IntOrStringConverter))]
internal readonly record struct IntOrString(long? Number, string? Text)
{
    public static implicit operator IntOrString(string text) => new(null, text);

    public static implicit operator IntOrString(int number) => new(number, null);

    public override string ToString() =>
        Text ?? Number?.ToString(System.Globalization.CultureInfo.InvariantCulture) ?? "";
}

/// <summary>A text, or a structured value: <c>string | T</c>. A property of this type names its <see cref="StringOrConverter{T}"/>.</summary>
internal sealed record StringOr<T>(string? Text, T? Value)
    where T : class
{
    public static implicit operator StringOr<T>(string text) => new(text, null);

    public static implicit operator StringOr<T>(T value) => new(null, value);
}

/// <summary>A plain yes or no, or options that imply yes: <c>boolean | T</c>. A property of this type names its <see cref="BoolOrConverter{T}"/>.</summary>
internal sealed record BoolOr<T>(bool Flag, T? Value)
    where T : class
{
    public static implicit operator BoolOr<T>(bool flag) => new(flag, null);

    public static implicit operator BoolOr<T>(T value) => new(true, value);
}

/// <summary>Reads and writes <see cref="IntOrString"/>.</summary>
internal sealed class IntOrStringConverter : JsonConverter<IntOrString>
{
    public override IntOrString Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType switch
        {
            JsonTokenType.String => new(null, reader.GetString()),
            JsonTokenType.Number when reader.TryGetInt64(out long number) => new(number, null),
            _ => throw new JsonException("A number or a text is expected here."),
        };

    public override void Write(Utf8JsonWriter writer, IntOrString value, JsonSerializerOptions options)
    {
        if (value.Text is { } text)
        {
            writer.WriteStringValue(text);
        }
        else
        {
            writer.WriteNumberValue(value.Number ?? 0);
        }
    }
}

/// <summary>The generated descriptions of types: native compilation has no other.</summary>
internal static class GeneratedJson
{
    /// <summary>The description of a type.</summary>
    public static JsonTypeInfo<T> Of<T>(JsonSerializerOptions options) =>
        (JsonTypeInfo<T>)options.GetTypeInfo(typeof(T));
}

internal sealed class StringOrConverter<T> : JsonConverter<StringOr<T>>
    where T : class
{
    public override StringOr<T>? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType == JsonTokenType.String
            ? new(reader.GetString(), null)
            : new(null, JsonSerializer.Deserialize(ref reader, GeneratedJson.Of<T>(options)));

    public override void Write(Utf8JsonWriter writer, StringOr<T> value, JsonSerializerOptions options)
    {
        if (value.Value is { } structured)
        {
            JsonSerializer.Serialize(writer, structured, GeneratedJson.Of<T>(options));
        }
        else
        {
            writer.WriteStringValue(value.Text);
        }
    }
}

internal sealed class BoolOrConverter<T> : JsonConverter<BoolOr<T>>
    where T : class
{
    public override BoolOr<T>? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        reader.TokenType is JsonTokenType.True or JsonTokenType.False
            ? new(reader.GetBoolean(), null)
            : new(true, JsonSerializer.Deserialize(ref reader, GeneratedJson.Of<T>(options)));

    public override void Write(Utf8JsonWriter writer, BoolOr<T> value, JsonSerializerOptions options)
    {
        if (value.Value is { } structured)
        {
            JsonSerializer.Serialize(writer, structured, GeneratedJson.Of<T>(options));
        }
        else
        {
            writer.WriteBooleanValue(value.Flag);
        }
    }
}

/// <summary>A union of object types distinguished by what is in the object; each kind is written as what it is.</summary>
internal abstract class ObjectUnionConverter<TBase> : JsonConverter<TBase>
    where TBase : class
{
    /// <summary>Which of the types an object is.</summary>
    protected abstract Type Pick(JsonElement element);

    public override TBase? Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        using var document = JsonDocument.ParseValue(ref reader);
        if (document.RootElement.ValueKind != JsonValueKind.Object)
        {
            throw new JsonException("An object is expected here.");
        }

        JsonTypeInfo info = options.GetTypeInfo(Pick(document.RootElement));
        return (TBase?)document.RootElement.Deserialize(info);
    }

    public override void Write(Utf8JsonWriter writer, TBase value, JsonSerializerOptions options) =>
        JsonSerializer.Serialize(writer, value, options.GetTypeInfo(value.GetType()));
}
