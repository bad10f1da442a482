using System.Diagnostics.CodeAnalysis;
using System.Text.Json;
using AsmLsp.LanguageServer.Protocol;
using StreamJsonRpc;
using StreamJsonRpc.Protocol;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>The JSON-RPC connection with the error codes and the parameter form of the language server protocol.</summary>
internal sealed class LspConnection(IJsonRpcMessageHandler handler, ServerLog log) : JsonRpc(handler)
{
    /// <summary>How the parameters and results are written and read.</summary>
    /// <param name="generated">Generated descriptions of all types that are sent or taken.</param>
    [UnconditionalSuppressMessage(
        "Trimming",
        "IL2026",
        Justification = "Only generated descriptions of types are used."
    )]
    [UnconditionalSuppressMessage("AOT", "IL3050", Justification = "Only generated descriptions of types are used.")]
    public static SystemTextJsonFormatter CreateFormatter(JsonSerializerOptions generated) =>
        new() { JsonSerializerOptions = generated };

    /// <summary>Sends a request with one parameter object and waits for the answer.</summary>
    public Task<TResult> RequestAsync<TResult>(string method, object? parameters, CancellationToken cancellation) =>
        parameters is null
            ? InvokeCoreAsync<TResult>(CreateNewRequestId(), method, null, cancellation)
            : InvokeCoreAsync<TResult>(
                CreateNewRequestId(),
                method,
                [parameters],
                null,
                null,
                cancellation,
                isParameterObject: true
            );

    /// <summary>Sends a notification with one parameter object.</summary>
    public Task SendAsync(string method, object parameters) =>
        InvokeCoreAsync<object?>(
            RequestId.NotSpecified,
            method,
            [parameters],
            null,
            null,
            CancellationToken.None,
            isParameterObject: true
        );

    protected override JsonRpcError.ErrorDetail CreateErrorDetails(JsonRpcRequest request, Exception exception)
    {
        if (exception is LocalRpcException known)
        {
            return new()
            {
                Code = (JsonRpcErrorCode)known.ErrorCode,
                Message = known.Message,
                Data = known.ErrorData,
            };
        }

        for (Exception? cause = exception; cause is not null; cause = cause.InnerException)
        {
            if (cause is JsonException)
            {
                return new()
                {
                    Code = JsonRpcErrorCode.InvalidParams,
                    Message = $"The parameters of {request.Method} are not understood: {cause.Message}",
                };
            }
        }

        log.Fault(request.Method ?? "a request", exception);
        return new()
        {
            Code = JsonRpcErrorCode.InternalError,
            Message =
                $"relist failed in {request.Method}: {exception.GetType().Name}. The details are in the server's error output.",
        };
    }
}
