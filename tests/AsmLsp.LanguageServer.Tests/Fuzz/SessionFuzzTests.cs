using System.Globalization;
using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Fuzz;

/// <summary>
/// Random sessions: edits of all kinds with requests between them. A document that was edited says what the same text says that was
/// opened at once, and no request meets a fault of the server's own. RELIST_DRAWS makes it longer, RELIST_DRAWS_FROM draws others.
/// </summary>
public sealed class SessionFuzzTests
{
    private const int Sessions = 6,
        Edits = 40;

    // InternalError of JSON-RPC 2.0.
    private const int InternalError = -32603;

    private static readonly string[] Pieces =
    [
        " movlw 5\n",
        " goto start\n",
        "start nop\n",
        "#define d d+d\n",
        " movlw d\n",
        "x equ 5\n",
        "m macro a\n movlw a\n endm\n",
        " m x\n",
        " if x\n",
        " endif\n",
        "\t; note é 𝄞\n",
        "Page 3\n",
        "\r\n",
        "\n",
        " while 1\n",
        " endw\n",
        " list p=16f84a\n",
        " bsf PORTB,1\n",
        ";? was c1rf",
        ",",
        "(",
        "\"",
        "  ",
        "#v(x)",
        " end\n",
    ];

    private static readonly string[] Asked =
    [
        "textDocument/hover",
        "textDocument/completion",
        "textDocument/definition",
        "textDocument/references",
        "textDocument/documentHighlight",
        "textDocument/prepareRename",
        "textDocument/signatureHelp",
        "textDocument/prepareCallHierarchy",
    ];

    private static readonly string[] AskedOfAll =
    [
        "textDocument/documentSymbol",
        "textDocument/foldingRange",
        "textDocument/codeLens",
        "textDocument/semanticTokens/full",
        "textDocument/documentLink",
    ];

    [Fact]
    public async Task An_edited_document_says_what_the_same_text_says_when_it_is_opened()
    {
        int times = Number("RELIST_DRAWS", 1),
            from = Number("RELIST_DRAWS_FROM", 0) * 1_000_000;
        for (int seed = from; seed < from + Sessions * times; seed++)
        {
            await SessionAsync(new Random(seed), seed);
        }
    }

    private static async Task SessionAsync(Random random, int seed)
    {
        await using Desk desk = await Desk.StartAsync();
        string text = " list p=16f84a\nstart nop\n goto start\n end\n";
        desk.Open("main.asm", text);
        int version = 1;
        for (int i = 0; i < Edits; i++)
        {
            if (random.Next(12) == 0)
            {
                text = string.Concat(Enumerable.Range(0, random.Next(8)).Select(_ => Pick(random, Pieces)));
                desk.Session.Change(desk.UriOf("main.asm"), ++version, Session.Whole(text));
            }
            else
            {
                (int a, int b) = (Place(random, text), Place(random, text));
                (int start, int end) =
                    random.Next(2) == 0 ? (a, a) : (Math.Min(a, b), Math.Min(Math.Max(a, b), Math.Min(a, b) + 12));
                string put = random.Next(4) == 0 ? "" : Pick(random, Pieces);
                (int line, int character) = At(text, start);
                (int endLine, int endCharacter) = At(text, end);
                desk.Session.Change(
                    desk.UriOf("main.asm"),
                    ++version,
                    Session.Edit(line, character, endLine, endCharacter, put)
                );
                text = text[..start] + put + text[end..];
            }

            if (random.Next(3) == 0)
            {
                (int line, int character) = At(text, Place(random, text));
                string method = Pick(random, Asked);
                JsonObject? more =
                    method == "textDocument/references"
                        ? new JsonObject { ["context"] = new JsonObject { ["includeDeclaration"] = true } }
                        : null;
                await NoFaultAsync(() => desk.AtAsync(method, "main.asm", line, character, more));
                await NoFaultAsync(() => desk.OfAsync(Pick(random, AskedOfAll), "main.asm"));
            }
        }

        string[] edited = await desk.ProblemsAsync("main.asm", version);
        await using Desk fresh = await Desk.StartAsync();
        fresh.Open("main.asm", text);
        string[] opened = await fresh.ProblemsAsync("main.asm");
        Assert.True(
            edited.SequenceEqual(opened),
            $"seed {seed}: [{string.Join(", ", edited)}] after edits, [{string.Join(", ", opened)}] when opened:\n{text}"
        );
    }

    private static async Task NoFaultAsync(Func<Task<JsonNode?>> ask)
    {
        try
        {
            await ask();
        }
        catch (InvalidOperationException refusal)
        {
            Assert.DoesNotContain(
                InternalError.ToString(CultureInfo.InvariantCulture),
                refusal.Message,
                StringComparison.Ordinal
            );
        }
    }

    // Not between the two halves of a character, nor inside a line end: where no editor puts a cursor.
    private static int Place(Random random, string text)
    {
        int at = random.Next(text.Length + 1);
        while (
            at > 0 && at < text.Length && (char.IsLowSurrogate(text[at]) || (text[at] == '\n' && text[at - 1] == '\r'))
        )
        {
            at--;
        }

        return at;
    }

    private static (int Line, int Character) At(string text, int offset)
    {
        int line = 0,
            start = 0;
        for (int i = 0; i < offset; i++)
        {
            if (text[i] == '\n' || (text[i] == '\r' && (i + 1 == text.Length || text[i + 1] != '\n')))
            {
                line++;
                start = i + 1;
            }
        }

        return (line, offset - start);
    }

    private static string Pick(Random random, string[] from) => from[random.Next(from.Length)];

    private static int Number(string variable, int otherwise) =>
        int.TryParse(
            Environment.GetEnvironmentVariable(variable),
            NumberStyles.None,
            CultureInfo.InvariantCulture,
            out int number
        )
            ? number
            : otherwise;
}
