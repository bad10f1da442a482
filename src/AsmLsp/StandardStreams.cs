using System.Runtime.InteropServices;
using System.Text;

namespace AsmLsp;

/// <summary>Standard output could not be written: nothing more can be said there, and what was said is not whole.</summary>
internal sealed class OutputLostException(string message) : IOException(message);

/// <summary>
/// Input, output and error stream of the process as they were given to it. One that was closed counts as closed: its number may belong to
/// something of the runtime's own by now, which must not be read or written.
/// </summary>
internal static class StandardStreams
{
    /// <summary>Standard input; null where it is closed.</summary>
    public static Stream? Input() => IsGiven(0) ? Console.OpenStandardInput() : null;

    /// <summary>Standard output; null where it is closed.</summary>
    public static Stream? Output() => IsGiven(1) ? Console.OpenStandardOutput() : null;

    /// <summary>The error stream; null where it is closed.</summary>
    public static Stream? Error() => IsGiven(2) ? Console.OpenStandardError() : null;

    /// <summary>A writer to standard output that says by an <see cref="OutputLostException"/> where that does not take it.</summary>
    public static TextWriter OutputWriter() =>
        OperatingSystem.IsWindows() ? Console.Out : new StandardWriter(Output(), isOutput: true);

    /// <summary>A writer to the error stream. Where that takes nothing, there is nobody to say, and the work continues.</summary>
    public static TextWriter ErrorWriter() =>
        OperatingSystem.IsWindows() ? Console.Error : new StandardWriter(Error(), isOutput: false);

    /// <summary>Whether the other end of standard input is closed, even if there is something left to read.</summary>
    public static bool InputHasHungUp()
    {
        if (OperatingSystem.IsWindows())
            return false;
        // struct pollfd: the descriptor, the wanted events, those that are (poll(2)); a hang-up, 16, is reported unasked.
        const short hangUp = 16;
        byte[] asked = new byte[8];
        try
        {
            return Poll(asked, 1, 0) > 0 && (BitConverter.ToInt16(asked, 6) & hangUp) != 0;
        }
        catch (Exception fault) when (fault is EntryPointNotFoundException or DllNotFoundException)
        {
            return false;
        }
    }

    // What the runtime opens for itself is closed in programs that it starts; what a program is given to start with cannot be.
    private static bool IsGiven(int descriptor)
    {
        const int GetFlags = 1,
            CloseOnExec = 1;
        if (OperatingSystem.IsWindows())
            return true;
        try
        {
            int flags = Control(descriptor, GetFlags);
            return flags >= 0 && (flags & CloseOnExec) == 0;
        }
        catch (Exception fault) when (fault is EntryPointNotFoundException or DllNotFoundException)
        {
            return true;
        }
    }

    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    [DllImport("libc", EntryPoint = "fcntl")]
    private static extern int Control(int descriptor, int command);

    [DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    [DllImport("libc", EntryPoint = "poll")]
    private static extern int Poll(byte[] asked, nuint count, int milliseconds);

    private sealed class StandardWriter(Stream? stream, bool isOutput) : TextWriter
    {
        private readonly StreamWriter? inner = stream is null
            ? null
            : new StreamWriter(
                stream,
                new UTF8Encoding(encoderShouldEmitUTF8Identifier: false),
                16 * 1024,
                leaveOpen: true
            )
            {
                AutoFlush = true,
            };
        private bool isLost;

        public override Encoding Encoding => Encoding.UTF8;

        public override void Write(char value) => Send(w => w.Write(value));

        public override void Write(string? value) => Send(w => w.Write(value));

        public override void Write(char[] buffer, int index, int count) => Send(w => w.Write(buffer, index, count));

        public override void Write(ReadOnlySpan<char> buffer) => Write(buffer.ToString());

        public override void WriteLine(string? value) => Send(w => w.WriteLine(value));

        public override void WriteLine() => Send(static w => w.WriteLine());

        private void Send(Action<TextWriter> write)
        {
            if (isLost)
                return;
            if (inner is null)
            {
                Lose("it is closed");
                return;
            }

            try
            {
                lock (inner)
                    write(inner);
            }
            catch (Exception fault)
                when (fault is IOException or UnauthorizedAccessException or ObjectDisposedException)
            {
                Lose(fault.Message);
            }
        }

        private void Lose(string why)
        {
            isLost = true;
            if (isOutput)
                throw new OutputLostException($"Standard output could not be written: {why}.");
        }
    }
}
