import * as fs from 'node:fs';
import * as path from 'node:path';
import * as vscode from 'vscode';
import { run, serverCommand } from './server';

/** One row of the report that `relist recover --report` writes; lines and columns count from 1. */
interface ReportRow {
  line: number;
  severity: 'error' | 'warning' | 'note';
  message: string;
}

/** Everything that a person can start from the command palette. */
export function registerCommands(context: vscode.ExtensionContext, channel: vscode.OutputChannel, restart: () => Promise<void>): void {
  const command = () => serverCommand(context.extensionPath);
  const add = (name: string, action: (...args: never[]) => unknown) =>
    context.subscriptions.push(vscode.commands.registerCommand(`relist.editor.${name}`, action));

  add('build', build);
  add('recover', (document?: vscode.Uri) => recover(command(), channel, document));
  add('fixAll', () =>
    vscode.commands.executeCommand('editor.action.sourceAction', { kind: 'source.fixAll', apply: 'first' }));
  add('problemPage', problemPage);
  add('chooseChip', () => chooseChip(command(), context.extensionPath));
  add('restart', restart);
}

/** Saves and builds; the server says what was written, or what is in the way. */
async function build(): Promise<void> {
  const document = vscode.window.activeTextEditor?.document;
  if (!document || document.uri.scheme !== 'file') {
    void vscode.window.showErrorMessage('Open the program that is to be built first.');
    return;
  }
  if (document.isDirty && !(await document.save())) return;
  await vscode.commands.executeCommand('relist.build', document.uri.toString());
}

async function recover(command: string, channel: vscode.OutputChannel, document?: vscode.Uri): Promise<void> {
  const input = document ?? (await vscode.window.showOpenDialog({
    title: 'The printed document, or the text pasted from it',
    filters: { 'Documents and pasted text': ['pdf', 'txt', 'asm'] },
  }))?.[0];
  if (!input) return;
  const { dir, name, ext } = path.parse(input.fsPath);
  const output = path.join(dir, name + (ext.toLowerCase() === '.asm' ? '-recovered' : '') + '.asm');
  if (fs.existsSync(output)) {
    const answer = await vscode.window.showWarningMessage(`${path.basename(output)} is there already.`, { modal: true }, 'Write over it');
    if (!answer) return;
  }
  const report = path.join(fs.mkdtempSync(path.join(await temporary(), 'relist-')), 'report.json');
  const result = await vscode.window.withProgress(
    { location: vscode.ProgressLocation.Notification, title: `Recovering ${path.basename(input.fsPath)}` },
    () => run(command, ['recover', input.fsPath, '-o', output, '--report', report], dir));
  channel.appendLine(result.output + result.error);
  if (result.status === null || result.status > 1) {
    void vscode.window.showErrorMessage(result.error.trim() || 'The document could not be recovered.');
    return;
  }
  await vscode.window.showTextDocument(vscode.Uri.file(output));
  const rows: ReportRow[] = fs.existsSync(report) ? JSON.parse(fs.readFileSync(report, 'utf8')) : [];
  fs.rmSync(path.dirname(report), { recursive: true, force: true });
  for (const row of rows) channel.appendLine(`${output}:${row.line}: ${row.severity}: ${row.message}`);
  const doubts = rows.filter(row => row.severity !== 'note').length;
  const shown = await vscode.window.showInformationMessage(
    doubts === 0 ? `Recovered without a doubt (${rows.length} changes).` : `Recovered; ${doubts} places want a look.`, 'Show report');
  if (shown) channel.show(true);
}

async function temporary(): Promise<string> {
  return (await import('node:os')).tmpdir();
}

/** Opens the page that the problem at the cursor links to. */
async function problemPage(): Promise<void> {
  const editor = vscode.window.activeTextEditor;
  if (!editor) return;
  const at = editor.selection.active;
  const here = vscode.languages.getDiagnostics(editor.document.uri)
    .filter(problem => problem.range.start.line <= at.line && problem.range.end.line >= at.line)
    .sort((a, b) => Number(b.range.contains(at)) - Number(a.range.contains(at)) || a.severity - b.severity);
  for (const { code } of here) {
    if (code && typeof code === 'object') {
      if (code.target.scheme === 'file') await vscode.commands.executeCommand('markdown.showPreview', code.target);
      else await vscode.env.openExternal(code.target);
      return;
    }
  }
  void vscode.window.showInformationMessage('There is no problem with a page on this line.');
}

/** Lets a person pick the chip for programs that name none. */
async function chooseChip(command: string, folder: string): Promise<void> {
  const result = await run(command, ['chips'], folder);
  if (result.status !== 0) {
    void vscode.window.showErrorMessage(result.error.trim());
    return;
  }
  const [, ...rows] = result.output.trim().split(/\r?\n/);
  const chips = rows.map(row => {
    const [name, words, registers, eeprom, , pins] = row.trim().split(/\s+/);
    return { label: name, description: `${words} words, ${registers} registers, ${eeprom} bytes of EEPROM, ${pins} pins` };
  });
  const chosen = await vscode.window.showQuickPick(chips, { title: 'The chip for programs that name none', matchOnDescription: true });
  if (!chosen) return;
  const target = vscode.workspace.workspaceFolders ? vscode.ConfigurationTarget.Workspace : vscode.ConfigurationTarget.Global;
  await vscode.workspace.getConfiguration('relist').update('chip', chosen.label, target);
}
