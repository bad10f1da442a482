using System.Diagnostics;
using AsmLsp.Host.Scans;

namespace AsmLsp.Host.Tests.Scans;

public sealed class OutsideToolEndTests
{
    [Fact]
    public void Program_that_is_cancelled_is_stopped()
    {
        if (OperatingSystem.IsWindows())
            return;
        using var folder = new TempFolder();
        using var stop = new CancellationTokenSource(TimeSpan.FromMilliseconds(300));
        string mark = $"{Environment.ProcessId}.25";
        Assert.ThrowsAny<OperationCanceledException>(() =>
            OutsideTool.Run("/bin/sleep", [mark], folder.Path, TimeSpan.FromMinutes(1), stop.Token)
        );
        Assert.DoesNotContain(
            Process.GetProcessesByName("sleep"),
            p => File.ReadAllText($"/proc/{p.Id}/cmdline").Contains(mark, StringComparison.Ordinal)
        );
    }
}
