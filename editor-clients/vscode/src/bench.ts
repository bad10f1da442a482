import * as path from 'node:path';
import * as vscode from 'vscode';

/** The bench card beside the source, and what can be done with a HEX file. */
export function registerBench(context: vscode.ExtensionContext): void {
  context.subscriptions.push(
    vscode.commands.registerCommand('relist.editor.card', () => showCard(context)),
    vscode.commands.registerCommand('relist.editor.disassemble', disassemble),
    vscode.commands.registerCommand('relist.editor.compare', compare),
    vscode.commands.registerCommand('relist.editor.replaceChip', replaceChip),
  );
}

/** How long after the last edit the card is made again. */
const pause = 600;

/** Shows the card of the active document in a panel beside it; the panel follows the edits. */
async function showCard(context: vscode.ExtensionContext): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (!document) return;
  // No script runs in the panel, and nothing is loaded from anywhere: the page says so itself.
  const panel = vscode.window.createWebviewPanel('relist.card', `Card: ${path.basename(document.fileName)}`, vscode.ViewColumn.Beside, {
    enableScripts: false,
    localResourceRoots: [],
  });
  let timer: NodeJS.Timeout | undefined;
  let shown = false;
  const make = async () => {
    try {
      panel.webview.html = await vscode.commands.executeCommand<string>('relist.showCard', document.uri.toString(), 'content');
      shown = true;
    } catch (fault) {
      // While the source has errors the last card stays.
      if (!shown) void vscode.window.showErrorMessage(fault instanceof Error ? fault.message : String(fault));
    }
  };
  const edits = vscode.workspace.onDidChangeTextDocument(change => {
    if (change.document.uri.toString() !== document.uri.toString()) return;
    clearTimeout(timer);
    timer = setTimeout(() => void make(), pause);
  });
  panel.onDidDispose(() => {
    clearTimeout(timer);
    edits.dispose();
  }, undefined, context.subscriptions);
  await make();
  if (!shown) panel.dispose();
}

/** Makes a source of the HEX file, for a chip that is asked for where nothing names it. */
async function disassemble(): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (!document) return;
  const uri = document.uri.toString();
  try {
    await vscode.commands.executeCommand('relist.disassemble', uri);
  } catch {
    const chip = await vscode.window.showInputBox({ title: 'The chip that the HEX file is for', placeHolder: '16F84A' });
    if (!chip) return;
    try {
      await vscode.commands.executeCommand('relist.disassemble', uri, chip);
    } catch (fault) {
      void vscode.window.showErrorMessage(fault instanceof Error ? fault.message : String(fault));
    }
  }
}

/** Compares the HEX file with a build that is chosen, and opens the report. */
async function compare(): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (!document) return;
  const chosen = (await vscode.window.showOpenDialog({
    title: 'The build to compare with: a source or a HEX file',
    defaultUri: vscode.Uri.file(path.dirname(document.fileName)),
    filters: { 'Sources and HEX files': ['asm', 'hex', 'src'] },
  }))?.[0];
  if (!chosen) return;
  try {
    const result = await vscode.commands.executeCommand<{ report: string }>('relist.compare', document.uri.toString(), chosen.toString());
    await vscode.window.showTextDocument(
      await vscode.workspace.openTextDocument({ content: result.report, language: 'plaintext' }), vscode.ViewColumn.Beside);
  } catch (fault) {
    void vscode.window.showErrorMessage(fault instanceof Error ? fault.message : String(fault));
  }
}

/** Makes a source for another chip beside the program; the server says what was proved and what is left to decide. */
async function replaceChip(): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (!document) return;
  const chip = await vscode.window.showInputBox({ title: 'The chip that takes the place of the old one', placeHolder: '16F628A' });
  if (!chip) return;
  try {
    await vscode.commands.executeCommand('relist.replaceChip', document.uri.toString(), chip);
  } catch (fault) {
    void vscode.window.showErrorMessage(fault instanceof Error ? fault.message : String(fault));
  }
}
