using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using AsmLsp.LanguageServer.Protocol;
using StreamJsonRpc;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// How everything that crosses the connection is written and read: generated code only, since native compilation has no reflection.
/// The parameters and results of a method are listed in its own file, as a part of <see cref="MessageTypes"/>; what is listed here is shared,
/// or sent by the server of its own accord. What these types contain comes along.
/// </summary>
[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true
)]
// RequestId is what '$/cancelRequest' carries: without it a cancellation is dropped silently.
[JsonSerializable(typeof(RequestId))]
[JsonSerializable(typeof(MessageTypes))]
[JsonSerializable(typeof(object))]
[JsonSerializable(typeof(JsonElement))]
[JsonSerializable(typeof(JsonElement[]))]
[JsonSerializable(typeof(LogTraceParams))]
[JsonSerializable(typeof(TextDocumentParams))]
[JsonSerializable(typeof(TextDocumentPositionParams))]
[JsonSerializable(typeof(LspTextEdit[]))]
[JsonSerializable(typeof(Location[]))]
[JsonSerializable(typeof(PublishDiagnosticsParams))]
[JsonSerializable(typeof(WorkspaceEdit))]
[JsonSerializable(typeof(TextDocumentEdit))]
[JsonSerializable(typeof(CreateFile))]
[JsonSerializable(typeof(ApplyWorkspaceEditParams))]
[JsonSerializable(typeof(ApplyWorkspaceEditResult))]
[JsonSerializable(typeof(ConfigurationParams))]
[JsonSerializable(typeof(RegistrationParams))]
[JsonSerializable(typeof(ProgressParams))]
[JsonSerializable(typeof(WorkDoneProgressCreateParams))]
[JsonSerializable(typeof(WorkDoneProgressBegin))]
[JsonSerializable(typeof(WorkDoneProgressReport))]
[JsonSerializable(typeof(WorkDoneProgressEnd))]
[JsonSerializable(typeof(ShowMessageParams))]
[JsonSerializable(typeof(LogMessageParams))]
[JsonSerializable(typeof(ShowMessageRequestParams))]
[JsonSerializable(typeof(MessageActionItem))]
[JsonSerializable(typeof(ShowDocumentParams))]
[JsonSerializable(typeof(ShowDocumentResult))]
// Parts of unions that are reached only through a converter.
[JsonSerializable(typeof(MarkupContent))]
[JsonSerializable(typeof(string[]))]
[JsonSerializable(typeof(bool))]
internal sealed partial class LspJson : JsonSerializerContext
{
    /// <summary>A value as JSON, for the places where the protocol carries anything.</summary>
    public static JsonElement Element<T>(T value) =>
        JsonSerializer.SerializeToElement(value, GeneratedJson.Of<T>(Default.Options));
}

/// <summary>The types of messages, one property each: the generator of <see cref="LspJson"/> follows them. Nobody makes an object of this.</summary>
internal sealed partial class MessageTypes;
