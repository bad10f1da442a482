using System.Text.Json;
using System.Text.RegularExpressions;

namespace AsmLsp.Tests;

/// <summary>The snippets of the VS Code extension, with what they propose filled in, are in a whole program without a problem.</summary>
public sealed partial class SnippetTests
{
    private const string Head =
        "        list    p=16f84a\n        #include <p16f84a.inc>\n        __config _CP_OFF & _WDT_OFF & _PWRTE_ON & _XT_OSC\n        cblock  0x0c\n";
    private const string Start = "        endc\n        org     0\n        goto    begin\n";

    /// <summary>The program around each snippet: what the snippet's description says has to be there, and a use of what it defines.</summary>
    private static readonly Dictionary<string, string> Around = new()
    {
        ["New program"] = "{}",
        ["Interrupt that keeps W and STATUS"] =
            Head + "keepw\nkeeps\n" + Start + "{}\nbegin   bsf     INTCON,GIE\n        goto    begin\n        end\n",
        ["Table of values"] =
            Head
            + "count\n"
            + Start
            + "{}\nbegin   clrf    count\nagain   movf    count,w\n        call    table\n        goto    again\n        end\n",
        ["Write a cell of the EEPROM"] =
            Head + "count\n" + Start + "begin   clrf    count\n{}        goto    begin\n        end\n",
        ["Wait in two nested loops"] =
            Head + "outer\ninner\n" + Start + "begin   nop\n{}        goto    begin\n        end\n",
        ["Macro"] = Head + "count\n" + Start + "{}\nbegin   name    count\n        goto    begin\n        end\n",
    };

    /// <summary>What a person writes at the last stop, where an empty one would leave the snippet without sense.</summary>
    private static readonly Dictionary<string, string> Written = new()
    {
        ["Macro"] = "clrf    register",
        ["New program"] = "clrf    count",
    };

    public static TheoryData<string> Names => [.. Bodies().Keys];

    [Fact]
    public void Every_snippet_is_tried() => Assert.Equal(Bodies().Keys.Order(), Around.Keys.Order());

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Snippet_assembles_without_a_problem(string name)
    {
        string file = Path.GetTempFileName();
        try
        {
            await File.WriteAllTextAsync(
                file,
                Around[name]
                    .Replace(
                        "{}",
                        Fill(Bodies()[name], Written.GetValueOrDefault(name, "")) + "\n",
                        StringComparison.Ordinal
                    )
            );
            using RelistProcess relist = RelistProcess.Start("check", file);
            string reported = await relist.OutputAsync();
            (int code, string about) = await relist.EndAsync();
            Assert.True(
                code == 0 && reported == "" && about.Trim() == "no problems",
                $"{code} {reported} {about} {await File.ReadAllTextAsync(file)}"
            );
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Fact]
    public void Stops_are_filled_with_what_they_propose() =>
        Assert.Equal("loop    goto    $ ; loop, here", Fill(@"${1:loop}    goto    \$ ; ${1:loop}, $0", "here"));

    private static Dictionary<string, string> Bodies()
    {
        string? folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder!, "AsmLsp.sln")))
        {
            folder = Path.GetDirectoryName(folder);
        }

        using var snippets = JsonDocument.Parse(
            File.ReadAllText(Path.Combine(folder!, "editor-clients", "vscode", "snippets", "relist.json"))
        );
        return snippets
            .RootElement.EnumerateObject()
            .ToDictionary(
                snippet => snippet.Name,
                snippet =>
                    string.Join(
                        '\n',
                        snippet.Value.GetProperty("body").EnumerateArray().Select(line => line.GetString())
                    )
            );
    }

    /// <summary>The snippet as an editor puts it in (snippet syntax of LSP 3.17): stops with their proposals, a dollar after a backslash for itself.</summary>
    private static string Fill(string body, string atTheEnd) =>
        Stop()
            .Replace(
                body,
                stop =>
                    stop.Value switch
                    {
                        "$0" => atTheEnd,
                        ['\\', ..] => stop.Value[1..],
                        _ => stop.Groups["proposal"].Value,
                    }
            );

    [GeneratedRegex(@"\\.|\$\{\d+:(?<proposal>[^}]*)\}|\$0")]
    private static partial Regex Stop();
}
