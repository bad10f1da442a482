using AsmLsp.LanguageServer.Protocol;
using StreamJsonRpc;

namespace AsmLsp.LanguageServer.Connection;

/// <summary>An error answer with a code of the protocol and a message that a person may see.</summary>
internal sealed class LspException : LocalRpcException
{
    public LspException(int code, string message)
        : base(message) => ErrorCode = code;

    /// <summary>A request that can't be done, with the reason (a refused rename, say).</summary>
    public static LspException Refused(string reason) => new(ErrorCodes.RequestFailed, reason);

    /// <summary>Parameters that make no sense.</summary>
    public static LspException BadParameters(string reason) => new(ErrorCodes.InvalidParams, reason);
}
