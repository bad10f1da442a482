using System.Globalization;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Instructions;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features.Common;
using AsmLsp.LanguageServer.Protocol;
using AsmLsp.LanguageServer.Workspace;

namespace AsmLsp.LanguageServer.Features;

/// <summary>
/// <c>textDocument/inlayHint</c>: behind a line its address and word, as printed listings show them in front, and its cycles; behind a name
/// or number what it comes to, where that is not what it looks like.
/// </summary>
internal sealed class InlayHintHandler : IFeature
{
    public void Register(FeatureRegistry registry)
    {
        registry.Capability(
            (offer, _) => offer with { InlayHintProvider = new InlayHintOptions { ResolveProvider = false } }
        );
        registry.Request<InlayHintParams, InlayHint[]>(
            Methods.InlayHint,
            (request, asked, cancellation) =>
                request.View(asked.TextDocument) is { } view ? Handle(request, view, asked.Range, cancellation) : []
        );
    }

    public static InlayHint[] Handle(
        RequestContext request,
        FileView view,
        LspRange range,
        CancellationToken cancellation
    )
    {
        var hints = new List<InlayHint>();
        var values = new FinalValues(view.Analysis);
        int last = Math.Min(range.End.Line, view.Text.LineCount - 1);
        for (int number = Math.Max(0, range.Start.Line); number <= last; number++)
        {
            cancellation.ThrowIfCancellationRequested();
            LineFacts facts = view.Analysis.FactsOf(view.File, number);
            if ((facts.Role & (LineRole.Skipped | LineRole.AfterEnd | LineRole.Body | LineRole.BlockMember)) != 0)
            {
                continue;
            }

            LineSyntax syntax = view.Line(number);
            if (request.Settings.HintValues)
            {
                AddValues(syntax, number, facts);
            }

            if (EndOfLine(syntax, facts) is { Length: > 0 } text)
            {
                hints.Add(
                    new InlayHint(At(number, view.Text[number].Text.Length), text)
                    {
                        PaddingLeft = true,
                        Tooltip = Tooltip(facts),
                    }
                );
            }
        }

        return [.. hints.Where(hint => IsInside(hint.Position))];

        bool IsInside(Position at) => !IsBefore(at, range.Start) && !IsBefore(range.End, at);

        static bool IsBefore(Position a, Position b) =>
            a.Line < b.Line || (a.Line == b.Line && a.Character < b.Character);

        string EndOfLine(LineSyntax syntax, LineFacts facts)
        {
            if (facts.Words == 0)
            {
                return "";
            }

            var parts = new List<string>(2);
            if (request.Settings.HintWords && view.Analysis.Image.TryGet(facts.Address, out ushort word, out _))
            {
                string more =
                    facts.Words > 1 ? string.Create(CultureInfo.InvariantCulture, $" +{facts.Words - 1}") : "";
                parts.Add(string.Create(CultureInfo.InvariantCulture, $"{facts.Address:X4} {word:X4}{more}"));
            }

            if (request.Settings.HintCycles && CyclesOf(syntax) is { } cycles)
            {
                parts.Add(cycles);
            }

            return string.Join("  ", parts);
        }

        void AddValues(LineSyntax syntax, int number, LineFacts facts)
        {
            if (syntax.OperationKind == OperationKind.Unknown || syntax.OperationToken < 0)
            {
                return;
            }

            bool literal = InstructionSet.Find(syntax.Operation!) is { Operands: OperandKind.Literal8 };
            bool defines =
                syntax.Keyword is Keyword.Equ or Keyword.Set or Keyword.Org or Keyword.VariableBlock
                || syntax.Operation == "=";
            if (
                (literal || defines)
                && syntax.Operands.Length == 1
                && syntax.Operands[0].Span.Length > 0
                && ValueShown(syntax.Operands[0], number, facts.Radix, literal) is { } shown
            )
            {
                hints.Add(new InlayHint(At(number, syntax.Operands[0].Span.End), shown) { PaddingLeft = true });
            }
        }

        string? ValueShown(OperandSyntax operand, int number, int radix, bool literal)
        {
            if (values.Of(operand.Value, view.File, number) is not { } value)
            {
                return null;
            }

            if (operand.Value is LiteralExpression number1)
            {
                // '0x1F' says what it is; bare digits are what people take for decimal when they are not.
                bool bare = number1.Text.All(char.IsAsciiDigit);
                return bare && radix != 10 && value > 9
                    ? string.Create(CultureInfo.InvariantCulture, $"= {value}")
                    : null;
            }

            int word = literal ? value & 0xFF : value;
            return string.Create(CultureInfo.InvariantCulture, $"= 0x{word:X2}");
        }

        Position At(int line, int column) => request.Positions.ToPosition(view.Text, new LinePosition(line, column));
    }

    private static string Tooltip(LineFacts facts) =>
        facts.Words == 1
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"Address 0x{facts.Address:X4} and the word there, in hexadecimal"
            )
            : string.Create(
                CultureInfo.InvariantCulture,
                $"Address 0x{facts.Address:X4} and the first of {facts.Words} words, in hexadecimal"
            );

    private static string? CyclesOf(LineSyntax syntax)
    {
        if (
            syntax.OperationKind != OperationKind.Instruction
            || InstructionSet.Find(syntax.Operation!) is not { } instruction
        )
        {
            return null;
        }

        return instruction.MaySkip ? "1 or 2 cycles"
            : instruction.Cycles == 1 ? "1 cycle"
            : "2 cycles";
    }
}
