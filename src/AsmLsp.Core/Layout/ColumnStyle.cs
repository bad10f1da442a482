using System.Runtime.CompilerServices;
using AsmLsp.Core.Syntax;
using AsmLsp.Core.Text;

namespace AsmLsp.Core.Layout;

/// <summary>
/// The columns that an author keeps to, counted from 0 as a reader sees them (tabs run to the next multiple of
/// <see cref="TabSize"/>).
/// </summary>
internal sealed class ColumnStyle
{
    /// <summary>Where operations are in most printed programs (common practice: one tab).</summary>
    public const int UsualOperationColumn = 8;

    private static readonly ConditionalWeakTable<SourceText, ColumnStyle> Known = new();

    private ColumnStyle(int operation, int operand, bool useTabs, int tabSize, bool isIndented) =>
        (OperationColumn, OperandColumn, UseTabs, TabSize, IsIndented) = (
            operation,
            operand,
            useTabs,
            tabSize,
            isIndented
        );

    /// <summary>Column of operations.</summary>
    public int OperationColumn { get; }

    /// <summary>Column of operands, or 0 where one blank parts them from the operation.</summary>
    public int OperandColumn { get; }

    /// <summary>Whether nearly all instructions come after column 1, so that one that does not is odd.</summary>
    public bool IsIndented { get; }

    /// <summary>Whether gaps are made of tabs.</summary>
    public bool UseTabs { get; }

    /// <summary>Columns of a tab.</summary>
    public int TabSize { get; }

    /// <summary>The indentation of an operation.</summary>
    public string Indent => Gap(0, OperationColumn);

    /// <summary>An operation that is in its column, with its operands where the author puts them.</summary>
    public string Statement(string operation, string operands) =>
        operation + (OperandColumn == 0 ? " " : Gap(OperationColumn + operation.Length, OperandColumn)) + operands;

    /// <summary>The style of a text, with what the options ask for.</summary>
    public static ColumnStyle Of(SourceText text, FormatOptions? options = null)
    {
        if (options is null || options == FormatOptions.Default)
            return Known.GetValue(text, static t => Read(t, FormatOptions.Default));
        return Read(text, options);
    }

    /// <summary>White space from one column to another, at least one blank.</summary>
    public string Gap(int from, int to)
    {
        if (to <= from)
            return " ";
        if (!UseTabs)
            return new string(' ', to - from);
        var gap = new System.Text.StringBuilder();
        int at = from;
        while (at / TabSize * TabSize + TabSize <= to)
        {
            gap.Append('\t');
            at = at / TabSize * TabSize + TabSize;
        }

        return gap.Append(' ', to - at).ToString();
    }

    /// <summary>The column after a stretch of text that starts at a column.</summary>
    public static int Advance(ReadOnlySpan<char> text, int column, int tabSize)
    {
        foreach (char c in text)
        {
            if (c == '\t')
                column = column / tabSize * tabSize + tabSize;
            else if (!char.IsLowSurrogate(c) && c != '\f')
                column++;
        }

        return column;
    }

    private static ColumnStyle Read(SourceText text, FormatOptions options)
    {
        int tabs = 0,
            blanks = 0,
            ones = 0,
            gaps = 0,
            indented = 0,
            flush = 0;
        Span<int> operations = stackalloc int[64];
        Span<int> operands = stackalloc int[96];
        foreach (TextLine line in text.Lines)
        {
            LineSyntax syntax = LineSyntax.Of(line);
            if (line.Text.Length > 0 && line.Text[0] == '\t')
                tabs++;
            else if (line.Text.Length > 1 && line.Text[0] == ' ')
                blanks++;
            if (syntax.OperationKind is not (OperationKind.Instruction or OperationKind.Directive))
                continue;
            SyntaxToken operation = syntax.Tokens[syntax.OperationToken];
            int column = Advance(line.Text.AsSpan(0, operation.Start), 0, options.TabSize);
            if (syntax.OperationKind == OperationKind.Directive)
            {
                if (syntax.LabelToken < 0 && column is > 0 and < 64)
                    operations[column]++;
                continue;
            }

            if (column == 0)
                flush++;
            else if (syntax.LabelToken < 0)
                indented++;
            if (syntax.LabelToken < 0 && column is > 0 and < 64)
                operations[column]++;
            TextSpan span = syntax.OperandSpan;
            if (span.Length == 0 || span.Start == operation.End)
                continue;
            gaps++;
            int operand = Advance(
                line.Text.AsSpan(operation.Start, span.Start - operation.Start),
                column,
                options.TabSize
            );
            if (operand < 96)
                operands[operand]++;
            if (span.Start == operation.End + 1 && line.Text[operation.End] == ' ')
                ones++;
        }

        int usual = Most(operations);
        int operationColumn = options.OperationColumn ?? (usual >= 2 && usual % 2 == 0 ? usual : UsualOperationColumn);
        int usualOperand = Most(operands);
        bool single = 2 * ones > gaps;
        int operandColumn =
            options.OperandColumn
            ?? (
                single ? 0
                : usualOperand >= operationColumn + 4 ? usualOperand
                : operationColumn + 8
            );
        return new ColumnStyle(
            operationColumn,
            operandColumn,
            options.UseTabs ?? tabs > blanks,
            options.TabSize,
            indented >= 8 && flush * 10 <= indented
        );
    }

    // Where two columns are as usual, the tab stop is meant.
    private static int Roundness(int column) =>
        column % 8 == 0 ? 2
        : column % 4 == 0 ? 1
        : 0;

    private static int Most(ReadOnlySpan<int> counts)
    {
        int best = 0;
        for (int i = 1; i < counts.Length; i++)
            if (counts[i] > counts[best] || (counts[i] == counts[best] && Roundness(i) > Roundness(best)))
                best = i;
        return counts[best] == 0 ? 0 : best;
    }
}
