import * as vscode from 'vscode';
import { LanguageClient, TransportKind } from 'vscode-languageclient/node';
import { registerBench } from './bench';
import { registerCommands } from './commands';
import { isSource } from './detect';
import { serverCommand } from './server';

let client: LanguageClient | undefined;
let wasStarted = false;

export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const channel = vscode.window.createOutputChannel('relist');
  context.subscriptions.push(channel);
  registerCommands(context, channel, () => start(context, channel));
  registerBench(context);
  context.subscriptions.push(
    vscode.workspace.onDidOpenTextDocument(async document => {
      await adopt(document);
      await startWhenNeeded();
    }),
    vscode.workspace.onDidChangeConfiguration(change => {
      if (change.affectsConfiguration('relist.command')) void start(context, channel);
    }),
  );
  await Promise.all(vscode.workspace.textDocuments.map(adopt));
  await startWhenNeeded();

  // The editor activates this extension at every start, since a source may be open that another language was found for.
  // The server starts with the first source.
  async function startWhenNeeded(): Promise<void> {
    if (!wasStarted && vscode.workspace.textDocuments.some(document => document.languageId === 'relist')) await start(context, channel);
  }
}

export function deactivate(): Thenable<void> | undefined {
  return client?.stop();
}

/** Starts the server, after ending the one that ran. */
async function start(context: vscode.ExtensionContext, channel: vscode.OutputChannel): Promise<void> {
  wasStarted = true;
  await client?.stop().catch(() => undefined);
  const command = serverCommand(context.extensionPath);
  client = new LanguageClient(
    'relist',
    'relist',
    { command, args: ['serve'], transport: TransportKind.stdio },
    {
      documentSelector: [{ language: 'relist', scheme: 'file' }, { language: 'relist', scheme: 'untitled' }, { language: 'relist-hex', scheme: 'file' }],
      outputChannel: channel,
      synchronize: { configurationSection: 'relist' },
    },
  );
  try {
    await client.start();
  } catch (fault) {
    client = undefined;
    void vscode.window.showErrorMessage(
      `${command} could not be started: ${fault instanceof Error ? fault.message : fault}. Set relist.command to where the program is.`);
  }
}

/** Takes over a document that another assembly language, or none, was found for, when it is plainly a source of this family. */
async function adopt(document: vscode.TextDocument): Promise<void> {
  if (document.languageId === 'relist' || document.uri.scheme !== 'file' || !/\.(?:asm|inc|src)$/i.test(document.fileName)) return;
  if (isSource(firstLines(document))) await vscode.languages.setTextDocumentLanguage(document, 'relist');
}

function* firstLines(document: vscode.TextDocument): Generator<string> {
  for (let line = 0; line < Math.min(document.lineCount, 500); line++) yield document.lineAt(line).text;
}
