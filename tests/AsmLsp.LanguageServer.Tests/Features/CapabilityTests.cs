using System.Text.Json.Nodes;
using AsmLsp.LanguageServer.Connection;
using AsmLsp.LanguageServer.Features;
using AsmLsp.LanguageServer.Tests.Harness;

namespace AsmLsp.LanguageServer.Tests.Features;

/// <summary>What is announced, what is answered and what is tested are the same list.</summary>
public sealed class CapabilityTests
{
    /// <summary>A client that has everything on which a capability depends.</summary>
    private const string Everything = """
        {
          "general": { "positionEncodings": ["utf-16"] },
          "textDocument": { "diagnostic": {}, "codeAction": { "codeActionLiteralSupport": { "codeActionKind": { "valueSet": ["quickfix"] } } }, "rename": { "prepareSupport": true } },
          "workspace": { "workspaceFolders": true, "fileOperations": { "willRename": true } }
        }
        """;

    /// <summary>Each capability with a test that uses it.</summary>
    private static readonly (string Capability, string Method, string Test)[] Tested =
    [
        ("callHierarchyProvider", "textDocument/prepareCallHierarchy", nameof(ReadingTests.Calls_lead_both_ways)),
        ("callHierarchyProvider", "callHierarchy/incomingCalls", nameof(ReadingTests.Calls_lead_both_ways)),
        ("callHierarchyProvider", "callHierarchy/outgoingCalls", nameof(ReadingTests.Calls_lead_both_ways)),
        (
            "codeActionProvider",
            "textDocument/codeAction",
            nameof(ActionTests.Certain_repair_comes_first_is_preferred_and_carries_its_edit)
        ),
        ("codeActionProvider", "codeAction/resolve", nameof(ActionTests.Edits_are_fetched_later_where_the_client_can)),
        ("codeLensProvider", "textDocument/codeLens", nameof(ReadingTests.Lenses_show_uses_words_and_cycles)),
        ("completionProvider", "textDocument/completion", nameof(CompletionTests.Offers_what_fits_the_place)),
        (
            "completionProvider",
            "completionItem/resolve",
            nameof(CompletionTests.Documentation_comes_when_it_is_asked_for)
        ),
        (
            "declarationProvider",
            "textDocument/declaration",
            nameof(NavigationTests.Definition_of_an_include_is_the_file_and_names_lead_across_files)
        ),
        ("definitionProvider", "textDocument/definition", nameof(NavigationTests.Definition_of_a_name)),
        (
            "diagnosticProvider",
            "textDocument/diagnostic",
            nameof(DiagnosticsTests.Client_that_fetches_problems_is_never_sent_them)
        ),
        (
            "diagnosticProvider",
            "workspace/diagnostic",
            nameof(DiagnosticsTests.Problems_of_the_workspace_are_those_of_included_files_and_can_be_unchanged)
        ),
        (
            "documentFormattingProvider",
            "textDocument/formatting",
            nameof(ActionTests.Formatting_changes_blanks_and_nothing_else)
        ),
        (
            "documentHighlightProvider",
            "textDocument/documentHighlight",
            nameof(NavigationTests.Highlight_shows_what_writes_to_a_register)
        ),
        ("documentLinkProvider", "textDocument/documentLink", nameof(ReadingTests.Include_is_a_link_to_its_file)),
        (
            "documentOnTypeFormattingProvider",
            "textDocument/onTypeFormatting",
            nameof(ActionTests.Line_break_formats_the_line_before_it_only)
        ),
        (
            "documentRangeFormattingProvider",
            "textDocument/rangeFormatting",
            nameof(ActionTests.Formatting_changes_blanks_and_nothing_else)
        ),
        (
            "documentSymbolProvider",
            "textDocument/documentSymbol",
            nameof(NavigationTests.Outline_has_sections_routines_blocks_macros_and_values)
        ),
        (
            "executeCommandProvider",
            "workspace/executeCommand",
            nameof(BuildTests.Page_of_a_problem_is_written_and_shown_and_its_address_is_the_one_that_problems_carry)
        ),
        (
            "foldingRangeProvider",
            "textDocument/foldingRange",
            nameof(ReadingTests.Blocks_choices_comments_and_routines_fold)
        ),
        (
            "hoverProvider",
            "textDocument/hover",
            nameof(HoverTests.Instruction_is_explained_in_markdown_with_its_stretch)
        ),
        (
            "inlayHintProvider",
            "textDocument/inlayHint",
            nameof(ReadingTests.Hints_show_address_word_and_values_where_they_are_asked_for)
        ),
        (
            "linkedEditingRangeProvider",
            "textDocument/linkedEditingRange",
            nameof(RenameTests.Names_of_a_macro_are_edited_together)
        ),
        ("referencesProvider", "textDocument/references", nameof(NavigationTests.References_of_a_name)),
        (
            "renameProvider",
            "textDocument/rename",
            nameof(RenameTests.Name_is_renamed_everywhere_that_it_means_the_same)
        ),
        (
            "renameProvider",
            "textDocument/prepareRename",
            nameof(RenameTests.Prepared_rename_reports_the_stretch_and_refuses_names_of_the_chip)
        ),
        (
            "selectionRangeProvider",
            "textDocument/selectionRange",
            nameof(ReadingTests.Selection_grows_from_the_word_to_the_file)
        ),
        ("semanticTokensProvider", "textDocument/semanticTokens/full", nameof(ReadingTests.Each_token_has_its_color)),
        (
            "semanticTokensProvider",
            "textDocument/semanticTokens/full/delta",
            nameof(ReadingTests.Difference_of_colors_leads_to_the_new_ones)
        ),
        ("semanticTokensProvider", "textDocument/semanticTokens/range", nameof(ReadingTests.Each_token_has_its_color)),
        (
            "signatureHelpProvider",
            "textDocument/signatureHelp",
            nameof(ReadingTests.Operands_of_the_operation_are_shown)
        ),
        ("textDocumentSync", "textDocument/didOpen", nameof(DocumentTests.Second_open_replaces_the_text)),
        (
            "textDocumentSync",
            "textDocument/didChange",
            nameof(DocumentTests.Changes_of_one_notification_build_on_each_other)
        ),
        ("textDocumentSync", "textDocument/didSave", nameof(BuildTests.Saving_writes_the_hex_and_reports_its_figures)),
        ("textDocumentSync", "textDocument/didClose", nameof(DiagnosticsTests.Closing_a_document_clears_its_problems)),
        (
            "textDocumentSync",
            "textDocument/willSaveWaitUntil",
            nameof(ActionTests.Saving_tidies_only_where_the_setting_asks_for_it)
        ),
        ("workspace", "workspace/willRenameFiles", nameof(RenameTests.Includes_follow_a_file_that_is_renamed)),
        (
            "workspace",
            "workspace/didChangeWorkspaceFolders",
            nameof(RenameTests.Includes_follow_a_file_that_is_renamed)
        ),
        (
            "workspaceSymbolProvider",
            "workspace/symbol",
            nameof(ReadingTests.Names_of_closed_files_of_the_workspace_are_found)
        ),
    ];

    /// <summary>The methods of all capabilities.</summary>
    internal static IEnumerable<string> TestedMethods => Tested.Select(entry => entry.Method);

    /// <summary>Methods that no capability announces.</summary>
    private static readonly string[] Unannounced =
    [
        "$/setTrace",
        "initialized",
        "window/workDoneProgress/cancel",
        "workspace/didChangeConfiguration",
        "workspace/didChangeWatchedFiles",
    ];

    [Fact]
    public async Task Each_capability_that_is_announced_is_tested_and_none_besides()
    {
        await using Desk desk = await Desk.StartAsync(Everything);
        IEnumerable<string> announced = desk.Offer["capabilities"]!
            .AsObject()
            .Select(capability => capability.Key)
            .Where(key => key != "positionEncoding");
        Assert.Equal(Tested.Select(entry => entry.Capability).Distinct().Order(), announced.Order());
    }

    [Fact]
    public void Each_method_that_is_answered_is_tested_and_none_besides()
    {
        var registry = new FeatureRegistry(
            new ServerContext(() => null, new ServerLog(TextWriter.Null), TimeProvider.System, CancellationToken.None)
        );
        foreach (IFeature feature in FeatureList.All)
        {
            feature.Register(registry);
        }

        Assert.Equal(
            Tested.Select(entry => entry.Method).Concat(Unannounced).Order(),
            registry.Methods.Select(method => method.Name).Order()
        );
    }

    [Fact]
    public void Every_command_is_in_the_list_once()
    {
        string[] written =
        [
            .. typeof(LanguageServer.Features.Commands.ICommand)
                .Assembly.GetTypes()
                .Where(type =>
                    type is { IsAbstract: false, IsInterface: false }
                    && type.IsAssignableTo(typeof(LanguageServer.Features.Commands.ICommand))
                )
                .Select(type => type.Name)
                .Order(),
        ];
        Assert.Equal(
            written,
            LanguageServer.Features.Commands.CommandList.All.Select(command => command.GetType().Name).Order()
        );
        Assert.Equal(
            LanguageServer.Features.Commands.CommandList.All.Count,
            LanguageServer.Features.Commands.CommandList.All.DistinctBy(command => command.Name).Count()
        );
    }
}
