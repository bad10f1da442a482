namespace AsmLsp.Pdf.Tests.Printing;

/// <summary>A program that makes PDF files out of sheets.</summary>
public interface IPrinter
{
    /// <summary>Its name, for test names.</summary>
    string Name { get; }

    /// <summary>The bytes of the PDF file.</summary>
    byte[] Print(Sheets sheets);
}

/// <summary>All printers, of three unrelated producers of PDF files.</summary>
public static class Printers
{
    public static IReadOnlyList<IPrinter> All { get; } =
    [new BuilderPrinter(), new ChromiumPrinter(), new GroffPrinter()];

    /// <summary>The printer of a name.</summary>
    public static IPrinter Named(string name) => All.Single(p => p.Name == name);
}
