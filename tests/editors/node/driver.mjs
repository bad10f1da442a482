// driver.mjs LIBRARY full|bare RELIST FILE RESTS: the whole job, message by message; prints 'ok' and 'not ok' lines.
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';

const [library, kind, relist, file, restsFile] = process.argv.slice(2);
// Everything from this one module: a second copy of the JSON-RPC layer would not know the first one's types.
const lsp = createRequire(path.join(library, 'package.json'))('vscode-languageserver-protocol/node');
const uri = pathToFileURL(file).href;
const folder = path.dirname(file);
const deadline = 20_000;

const capabilities = kind === 'bare' ? {} : {
  general: { positionEncodings: ['utf-16'] },
  workspace: { applyEdit: true, configuration: true, workspaceFolders: true, workspaceEdit: { documentChanges: true, resourceOperations: ['create'] } },
  window: { showDocument: { support: true } },
  textDocument: {
    synchronization: { didSave: true, willSave: true, willSaveWaitUntil: true },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    publishDiagnostics: { versionSupport: true, relatedInformation: true, codeDescriptionSupport: true, dataSupport: true, tagSupport: { valueSet: [1, 2] } },
    codeAction: {
      codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix', 'source.fixAll'] } },
      resolveSupport: { properties: ['edit'] }, dataSupport: true, isPreferredSupport: true,
    },
    rename: { prepareSupport: true },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
  },
};

const server = spawn(relist, ['serve', '--stdio'], { stdio: ['pipe', 'pipe', 'inherit'] });
const ended = new Promise(done => server.on('exit', done));
const connection = lsp.createMessageConnection(new lsp.StreamMessageReader(server.stdout), new lsp.StreamMessageWriter(server.stdin));

let text = fs.readFileSync(file, 'utf8');
let version = 1;
let problems = [];
let noticed = () => {};
const asked = [];
connection.onNotification(lsp.PublishDiagnosticsNotification.type, reported => {
  if (reported.uri === uri && (reported.version === undefined || reported.version === version)) problems = reported.diagnostics;
  noticed();
});
connection.onRequest(lsp.ConfigurationRequest.type, given => given.items.map(item => (item.section === 'relist' ? { output: 'chip.hex' } : null)));
connection.onRequest((method, given) => {
  asked.push(method);
  return null;
});
const applied = [], shown = [];
connection.onRequest(lsp.ApplyWorkspaceEditRequest.type, given => {
  applied.push(given.edit);
  return { applied: true };
});
connection.onRequest(lsp.ShowDocumentRequest.type, given => {
  shown.push(given.uri);
  return { success: true };
});
connection.onUnhandledNotification(() => noticed());
connection.listen();

async function await_(what, check) {
  const end = Date.now() + deadline;
  for (;;) {
    const value = await check();
    if (value) return value;
    if (Date.now() > end) throw new Error(`no sign of: ${what}`);
    await new Promise(done => {
      noticed = done;
      setTimeout(done, 25);
    });
  }
}

const lines = () => text.split(/\r?\n/);
function place(pattern, word) {
  const line = lines().findIndex(l => pattern.test(l));
  if (line < 0) throw new Error(`no line like ${pattern}`);
  const character = lines()[line].indexOf(word);
  if (character < 0) throw new Error(`no ${word} in: ${lines()[line]}`);
  return { line, character };
}
function offset({ line, character }) {
  let at = 0;
  for (; line > 0; line--) {
    const next = text.indexOf('\n', at);
    if (next < 0) return text.length;
    at = next + 1;
  }
  return at + character;
}
// Applies edits as a client does: all against the text before.
async function apply(edits) {
  const ordered = edits.map((edit, order) => ({ ...edit, order, from: offset(edit.range.start), to: offset(edit.range.end) }))
    .sort((a, b) => b.from - a.from || b.order - a.order);
  for (const edit of ordered) text = text.slice(0, edit.from) + edit.newText + text.slice(edit.to);
  problems = undefined;
  await connection.sendNotification(lsp.DidChangeTextDocumentNotification.type, { textDocument: { uri, version: ++version }, contentChanges: [{ text }] });
}
const editsOf = edit => [...(edit.changes?.[uri] ?? []), ...(edit.documentChanges ?? []).flatMap(change => change.edits ?? [])];
const here = { textDocument: { uri } };
async function actions(range, only) {
  const got = await connection.sendRequest(lsp.CodeActionRequest.type, { ...here, range, context: { diagnostics: [], ...(only ? { only } : {}) } });
  return got ?? [];
}
async function editOf(action) {
  return editsOf((action.edit ? action : await connection.sendRequest(lsp.CodeActionResolveRequest.type, action)).edit);
}
const all = () => ({ start: { line: 0, character: 0 }, end: { line: lines().length, character: 0 } });
const hoverText = hover => (typeof hover.contents === 'string' ? hover.contents : hover.contents.value ?? [hover.contents].flat().map(c => c.value ?? c).join('\n'));
function must(condition, why) {
  if (!condition) throw new Error(why);
}

let offers;
const common = [
  ['initialize names the server', async () => {
    const answer = await connection.sendRequest(lsp.InitializeRequest.type, { processId: process.pid, rootUri: pathToFileURL(folder).href, workspaceFolders: null, capabilities });
    must(answer.serverInfo?.name === 'relist', `it is ${answer.serverInfo?.name}`);
    offers = answer.capabilities;
    await connection.sendNotification(lsp.InitializedNotification.type, {});
  }],
  ['the problems of the paste are reported', async () => {
    await connection.sendNotification(lsp.DidOpenTextDocumentNotification.type, { textDocument: { uri, languageId: 'asm', version, text } });
    const line = place(/^goto start/, 'goto').line;
    await await_('the operation in column 1', () => problems?.some(p => p.range.start.line === line && p.code === 'operation-not-indented'));
  }],
];

const full = [
  ['the fix that comes first moves an operation out of column 1', async () => {
    const at = place(/^goto start/, 'goto');
    const [first] = await actions({ start: at, end: at });
    must(first?.isPreferred, `the first is ${JSON.stringify(first)}`);
    await apply(await editOf(first));
    must(/^\s+goto\s+start$/.test(lines()[at.line]), `the line is: ${lines()[at.line]}`);
    await await_('the problem gone', () => problems && !problems.some(p => p.range.start.line === at.line));
  }],
  ['source.fixAll makes every certain fix', async () => {
    const [action] = await actions(all(), ['source.fixAll']);
    must(action?.kind?.startsWith('source.fixAll'), `it is ${JSON.stringify(action)}`);
    await apply(await editOf(action));
    await await_('no operation in column 1', () => problems && !problems.some(p => p.code === 'operation-not-indented'));
    must(/^ +retfie/m.test(text), 'retfie stays where it was');
  }],
  ['no error is left when a person has given the rests of comments their semicolon', async () => {
    const rests = new Set(fs.readFileSync(restsFile, 'utf8').trim().split('\n'));
    await apply(lines().flatMap((l, line) => rests.has(l.trim().replace(/\s+/g, ' '))
      ? [{ range: { start: { line, character: 0 }, end: { line, character: 0 } }, newText: '; ' }] : []));
    await await_('no error', () => problems && !problems.some(p => p.severity === 1));
  }],
  ['a second source.fixAll changes nothing', async () => {
    const before = text;
    const [action] = await actions(all(), ['source.fixAll']);
    if (action) await apply(await editOf(action));
    must(text === before, 'the text changed');
  }],
  ['the hover of the configuration line shows the word', async () => {
    const hover = await connection.sendRequest(lsp.HoverRequest.type, { ...here, position: place(/__CONFIG/, '_WDT_OFF') });
    // Worked out in docs/demo/crossing-words.md.
    must(hoverText(hover).includes('0x3FF1'), hoverText(hover));
  }],
  ['formatting is stable', async () => {
    const options = { tabSize: 8, insertSpaces: true };
    await apply((await connection.sendRequest(lsp.DocumentFormattingRequest.type, { ...here, options })) ?? []);
    const again = (await connection.sendRequest(lsp.DocumentFormattingRequest.type, { ...here, options })) ?? [];
    must(again.length === 0, `${again.length} edits again`);
  }],
  ['a rename is refused for a register, and changes a label everywhere', async () => {
    const refused = await connection.sendRequest(lsp.RenameRequest.type, { ...here, position: place(/clrf\s+PORTA/, 'PORTA'), newName: 'lamps2' }).then(() => false, fault => fault.message);
    must(refused, 'a register was renamed');
    const edit = await connection.sendRequest(lsp.RenameRequest.type, { ...here, position: place(/^idle1/, 'idle1'), newName: 'quietly' });
    await apply(editsOf(edit));
    must(/goto\s+quietly/.test(text) && !/idle1/.test(text), 'the old name is still there');
  }],
  ['a definition and its uses are found', async () => {
    const position = place(/call\s+recall/, 'recall');
    const found = [await connection.sendRequest(lsp.DefinitionRequest.type, { ...here, position })].flat()[0];
    must((found.range ?? found.targetRange).start.line === place(/^recall/, 'recall').line, JSON.stringify(found));
    const uses = await connection.sendRequest(lsp.ReferencesRequest.type, { ...here, position, context: { includeDeclaration: true } });
    must(uses.length === 2, `${uses.length} uses`);
  }],
  ['saving writes the HEX', async () => {
    fs.writeFileSync(file, text);
    await connection.sendNotification(lsp.DidSaveTextDocumentNotification.type, here);
    await await_('the HEX', () => fs.existsSync(path.join(folder, 'chip.hex')));
  }],
  ['relist.recover makes a new buffer of the leaflet, and writes nothing itself', async () => {
    const address = await connection.sendRequest(lsp.ExecuteCommandRequest.type, { command: 'relist.recover', arguments: [pathToFileURL(path.join(folder, 'kit.pdf')).href] });
    const [create, fill] = applied.at(-1)?.documentChanges ?? [];
    must(create?.kind === 'create' && create.uri === address && fill?.textDocument.uri === address, JSON.stringify(create));
    must(/^start +clrf +PORTA$/m.test(fill.edits[0].newText), fill.edits[0].newText);
    must(shown.at(-1) === address && !fs.existsSync(path.join(folder, 'kit.asm')), 'it was not shown, or was written');
  }],
  ['relist.recover marks the two places that were guessed, and they are problems', async () => {
    await connection.sendRequest(lsp.ExecuteCommandRequest.type, { command: 'relist.recover', arguments: [pathToFileURL(path.join(folder, 'porch.txt')).href] });
    const [create, fill] = applied.at(-1).documentChanges;
    const recovered = fill.edits[0].newText;
    must(/^ +movwf +TRISB ;\? was m0vwf$/m.test(recovered) && /bsf +PORTB,0 ;\? was O: /m.test(recovered), recovered);
    let doubts;
    connection.onNotification(lsp.PublishDiagnosticsNotification.type, reported => {
      if (reported.uri === create.uri) doubts = reported.diagnostics.filter(p => p.code === 'open-doubt');
      noticed();
    });
    await connection.sendNotification(lsp.DidOpenTextDocumentNotification.type, { textDocument: { uri: create.uri, languageId: 'asm', version: 1, text: recovered } });
    await await_('the doubts', () => doubts?.length === 2);
  }],
];

const bare = [
  ['a client that declares nothing gets plain texts and is asked nothing', async () => {
    must(offers.positionEncoding === undefined, `the encoding is ${offers.positionEncoding}`);
    const hover = await connection.sendRequest(lsp.HoverRequest.type, { ...here, position: place(/^bsf STATUS,RP0/, 'bsf') });
    must(typeof hover.contents === 'string' || hover.contents.kind !== 'markdown', JSON.stringify(hover));
    const symbols = await connection.sendRequest(lsp.DocumentSymbolRequest.type, here);
    must(symbols.length > 5 && symbols.every(s => s.location && !s.children), JSON.stringify(symbols[0]));
    must((await actions(all())).every(action => typeof action.command === 'string'), 'a code action came as a literal');
    must(asked.length === 0, `asked for ${asked}`);
  }],
];

const last = [
  ['shutdown and exit end it with code 0', async () => {
    await connection.sendRequest(lsp.ShutdownRequest.type);
    await connection.sendNotification(lsp.ExitNotification.type);
    server.stdin.end();
    must((await ended) === 0, `exit code ${await ended}`);
  }],
];

for (const [name, step] of [...common, ...(kind === 'bare' ? bare : full), ...last]) {
  try {
    await step();
    console.log(`ok node client, ${kind}: ${name}`);
  } catch (fault) {
    console.log(`not ok node client, ${kind}: ${name}`);
    console.error(`${name}: ${fault.stack}`);
    process.exitCode = 1;
    break;
  }
}
server.kill();
process.exit();
