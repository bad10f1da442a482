using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary><c>textDocument/documentHighlight</c>: the uses of a name in the file, those that write to a register told apart.</summary>
internal sealed class DocumentHighlightHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability((offer, _) => offer with { DocumentHighlightProvider = true });
        registry.Request<TextDocumentPositionParams, DocumentHighlight[]>(
            Methods.DocumentHighlight,
            (request, asked, _) => Handle(request, asked)
        );
    }

    public static DocumentHighlight[] Handle(RequestContext request, TextDocumentPositionParams asked)
    {
        if (request.Asked(asked) is not var (view, at) || NameUse.At(view, at) is not { } name)
        {
            return [];
        }

        return
        [
            .. name.Everywhere(view)
                .Where(place => place.File == view.File)
                .Select(place => new DocumentHighlight(request.Range(place.Place))
                {
                    Kind =
                        place.IsDefinition || Writes(view, place)
                            ? DocumentHighlightKind.Write
                            : DocumentHighlightKind.Read,
                }),
        ];
    }

    /// <summary>Whether the instruction on the line writes to the register that the name stands for.</summary>
    private static bool Writes(FileView view, NamePlace place)
    {
        LineSyntax line = view.Line(place.Line);
        if (
            line.OperationKind != OperationKind.Instruction
            || line.Operands.Length == 0
            || !line.Operands[0].Span.Overlaps(place.Columns)
        )
        {
            return false;
        }

        string operation = line.Operation!;
        if (InstructionSet.Find(operation) is not { } instruction)
        {
            return Shorthand.Find(operation) is { Name: "negf" or "addcf" or "subcf" or "adddcf" or "subdcf" };
        }

        return instruction.Operands switch
        {
            OperandKind.Register => true,
            OperandKind.RegisterBit => instruction.Name is "bsf" or "bcf",
            OperandKind.RegisterDestination => line.Operands.Length < 2
                || line.Operands[1].Text is not ("w" or "W" or "0"),
            _ => false,
        };
    }
}
