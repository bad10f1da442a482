namespace AsmLsp.Host.Tests;

/// <summary>A folder of its own for one test, gone afterward.</summary>
internal sealed class TempFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("relist-test-").FullName;

    public string this[string name] => System.IO.Path.Combine(Path, name);

    public string Write(string name, string text) => Write(name, System.Text.Encoding.UTF8.GetBytes(text));

    public string Write(string name, byte[] bytes)
    {
        string path = this[name];
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(path)!);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    /// <summary>A program of the shell that replaces one of the machine.</summary>
    public string Script(string name, string body)
    {
        string path = Write(name, "#!/bin/sh\n" + body + "\n");
        if (!OperatingSystem.IsWindows())
            File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        return path;
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
