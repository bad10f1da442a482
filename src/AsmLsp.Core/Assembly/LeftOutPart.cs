using AsmLsp.Core.Text;

namespace AsmLsp.Core.Assembly;

/// <summary>Lines of a file that a choice ('if' ... 'endif') leaves out.</summary>
/// <param name="File">The file.</param>
/// <param name="FirstLine">The first of the lines, from 0.</param>
/// <param name="LastLine">The last of them.</param>
/// <param name="Reason">Why they are left out, such as 'LCD is not defined'.</param>
public sealed record LeftOutPart(SourceFile File, int FirstLine, int LastLine, string Reason);
