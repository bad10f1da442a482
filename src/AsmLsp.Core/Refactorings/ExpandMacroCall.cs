using System.Text;
using AsmLsp.Core.Assembly;
using AsmLsp.Core.Layout;
using AsmLsp.Core.Problems;
using AsmLsp.Core.Refactorings.Parts;
using AsmLsp.Core.Syntax;

namespace AsmLsp.Core.Refactorings;

/// <summary>Puts the lines of a macro in place of a call, with its arguments put in and its local names made new; the call stays as a comment.</summary>
internal sealed class ExpandMacroCall : RefactoringProvider
{
    private const int MostLines = 500;

    public override string Name => "expand-macro";

    public override RefactoringKind Kind => RefactoringKind.Inline;

    internal override void Offer(RefactoringRequest request)
    {
        int at = request.FirstLine;
        if (!request.IsOneLine || (request.Facts(at).Role & LineRole.MacroCall) == 0 || !request.IsPlain(at))
            return;
        LineSyntax call = request.Syntax(at);
        if (
            call.Operation is not { } name
            || MacroOf(request.Program, name) is not { Via: null, Body: { } body } macro
            || body.Lines.Count is 0 or > MostLines
        )
            return;
        foreach (EffectiveLine line in body.Lines)
            if (
                !QuietLines.Of(request.Program).IsQuiet(line.File, line.Number)
                || line.Syntax.Keyword
                    is Keyword.ExitMacro
                        or Keyword.Macro
                        or Keyword.EndMacro
                        or Keyword.End
                        or Keyword.Include
            )
                return;
        request.Add(
            "call",
            $"Put the {body.Lines.Count} {(body.Lines.Count == 1 ? "line" : "lines")} of macro {macro.Name} in place of this call",
            WordEffect.Same,
            () => Plan(request, call, macro)
        );
    }

    private static RefactoringPlan? Plan(RefactoringRequest request, LineSyntax call, Symbol macro)
    {
        var values = new Dictionary<string, string>(StringComparer.Ordinal);
        for (int i = 0; i < macro.Parameters.Count; i++)
            values[macro.Parameters[i]] = i < call.Operands.Length ? call.Operands[i].Text : "";
        string indent = ColumnStyle.Of(request.Text).Indent;
        string written = call.Text[call.Tokens[call.OperationToken].Start..].TrimEnd();
        var lines = new List<string>
        {
            call.LabelToken >= 0
                ? $"{call.Text[..call.Tokens[call.OperationToken].Start]}; {written}"
                : $"{indent}; {written}",
        };
        int depth = 0;
        foreach (EffectiveLine line in macro.Body!.Lines)
        {
            LineSyntax syntax = line.Syntax;
            if (syntax.Has(WordTraits.OpensBody))
                depth++;
            else if (syntax.Has(WordTraits.ClosesBody))
                depth--;
            if (syntax.Keyword != Keyword.Local)
            {
                lines.Add(With(syntax, values));
                continue;
            }

            // Which names are new would depend on a choice.
            if (depth > 0 || syntax.LabelToken >= 0)
                return null;
            foreach (OperandSyntax operand in syntax.Operands)
            {
                string own = LineSyntax.Parse(operand.Text, LineReading.NamesOnly)
                    is { Tokens: [{ Kind: TokenKind.Name }, ..] } word
                    ? word.TextOf(0)
                    : "";
                if (own.Length == 0)
                    return null;
                string fresh = Fresh(request, own, values);
                int sign = operand.Text.IndexOf('=', StringComparison.Ordinal);
                if (sign >= 0)
                    lines.Add(
                        $"{fresh} set {With(LineSyntax.Parse(operand.Text[(sign + 1)..].Trim(), LineReading.NamesOnly), values)}"
                    );
                values[own] = fresh;
            }

            if (syntax.Comment is { } comment)
                lines.Add(indent + comment);
        }

        var plan = new RefactoringPlan();
        plan.ReplaceLines(request.File, request.FirstLine, request.FirstLine, lines);
        return plan;
    }

    private static string Fresh(RefactoringRequest request, string own, Dictionary<string, string> values)
    {
        string wish = own + "_1";
        for (int i = 2; values.ContainsValue(wish) || FreeNames.Near(request.Program, wish) != wish; i++)
            wish = own + "_" + Show.Decimal(i);
        return wish;
    }

    // As the assembler does it: whole words, in everything but comments and texts.
    private static string With(LineSyntax syntax, Dictionary<string, string> values)
    {
        var text = new StringBuilder(syntax.Text.Length + 16);
        for (int i = 0; i < syntax.Tokens.Length; i++)
        {
            string token = syntax.TextOf(i);
            text.Append(
                syntax.Tokens[i].Kind == TokenKind.Name && i < syntax.EndOfCode
                    ? values.GetValueOrDefault(token, token)
                    : token
            );
        }

        return text.ToString();
    }

    private static Symbol? MacroOf(ProgramAnalysis program, string name)
    {
        if (program.FindSymbol(name) is { } exact)
            return exact.Kind == SymbolKind.Macro ? exact : null;
        Symbol? found = null;
        foreach (Symbol symbol in program.Symbols)
        {
            if (!symbol.Name.Equals(name, StringComparison.OrdinalIgnoreCase))
                continue;
            if (found is not null)
                return null;
            found = symbol;
        }

        return found?.Kind == SymbolKind.Macro ? found : null;
    }
}
