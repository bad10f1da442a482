using System.Text.Json;
using System.Text.Json.Serialization;

namespace AsmLsp.LanguageServer.Protocol;

/// <summary>
/// A place in a document, both parts counted from 0; what a character is depends on the negotiated encoding.
/// Values past the range of an integer, which some clients send for 'the end', are clamped while reading.
/// </summary>
[JsonConverter(typeof(PositionConverter))]
internal readonly record struct Position(int Line, int Character) : IComparable<Position>
{
    public int CompareTo(Position other) =>
        Line != other.Line ? Line.CompareTo(other.Line) : Character.CompareTo(other.Character);

    public static bool operator <(Position left, Position right) => left.CompareTo(right) < 0;

    public static bool operator >(Position left, Position right) => left.CompareTo(right) > 0;

    public static bool operator <=(Position left, Position right) => left.CompareTo(right) <= 0;

    public static bool operator >=(Position left, Position right) => left.CompareTo(right) >= 0;
}

/// <summary>From <paramref name="Start"/> to just before <paramref name="End"/>.</summary>
internal readonly record struct LspRange(Position Start, Position End);

internal sealed record Location(string Uri, LspRange Range);

internal sealed record TextDocumentIdentifier(string Uri);

internal sealed record VersionedTextDocumentIdentifier(string Uri, int Version);

internal sealed record OptionalVersionedTextDocumentIdentifier(
    string Uri,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.Never)] int? Version
);

internal sealed record TextDocumentItem(string Uri, string LanguageId, int Version, string Text);

/// <summary>What several requests share: a place in a document.</summary>
internal record TextDocumentPositionParams(TextDocumentIdentifier TextDocument, Position Position);

/// <summary>What several requests share: a whole document.</summary>
internal record TextDocumentParams(TextDocumentIdentifier TextDocument);

internal static class MarkupKind
{
    public const string PlainText = "plaintext";
    public const string Markdown = "markdown";
}

internal sealed record MarkupContent(string Kind, string Value);

internal sealed record LspTextEdit(LspRange Range, string NewText);

internal sealed class PositionConverter : JsonConverter<Position>
{
    public override Position Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        if (reader.TokenType != JsonTokenType.StartObject)
        {
            throw new JsonException("A position is an object with line and character.");
        }

        int? line = null,
            character = null;
        while (reader.Read() && reader.TokenType != JsonTokenType.EndObject)
        {
            if (reader.ValueTextEquals("line"u8))
            {
                line = Number(ref reader);
            }
            else if (reader.ValueTextEquals("character"u8))
            {
                character = Number(ref reader);
            }
            else
            {
                reader.Skip();
            }
        }

        return line is { } l && character is { } c
            ? new(l, c)
            : throw new JsonException("A position needs line and character.");
    }

    public override void Write(Utf8JsonWriter writer, Position value, JsonSerializerOptions options)
    {
        writer.WriteStartObject();
        writer.WriteNumber("line"u8, value.Line);
        writer.WriteNumber("character"u8, value.Character);
        writer.WriteEndObject();
    }

    private static int Number(ref Utf8JsonReader reader)
    {
        reader.Read();
        if (reader.TokenType != JsonTokenType.Number)
        {
            throw new JsonException("Line and character are numbers.");
        }

        return (int)Math.Clamp(reader.GetDouble(), 0, int.MaxValue);
    }
}
