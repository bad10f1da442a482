// Time from a request to its answer, as a client sees it: hover, completion, all semantic tokens, code actions; median and 95th percentile.
//   node tests/Benchmarks/requests.mjs RELIST [RELIST ...] [clangd=PROGRAM]
// Each RELIST is an executable (native, or the framework-dependent build). clangd, a language server for C, is asked the same about C files of the
// same length: a general measure of what such answers take on the machine. Needs Node.js only.
import { performance } from 'node:perf_hooks';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { Client, program } from './client.mjs';

const servers = process.argv.slice(2).map(text => (text.startsWith('clangd=') ? { name: 'clangd', command: text.slice(7), c: true } : { name: text, command: text, c: false }));
if (servers.length === 0) {
  console.error('usage: node requests.mjs RELIST [RELIST ...] [clangd=PROGRAM]');
  process.exit(2);
}

const lengths = (process.env.LENGTHS ?? '2000,10000').split(',').map(Number);
const rounds = Number(process.env.ROUNDS ?? 100);
const warmup = 20;

// C of ordinary lines: variables, functions, calls, comments.
function cProgram(lines) {
  const out = ['#define LAMP 0', 'static unsigned char port;'];
  for (let i = 0; i < 40; i++) out.push(`static int count${i};`);
  for (let routine = 0; out.length < lines - 16; routine++) {
    out.push(`/* what routine ${routine} does */`, `static int routine${routine}(int value)`, '{');
    for (let k = 0; k < 2; k++) {
      out.push(`    count${(routine + k) % 40} = ${(routine * 7 + k) % 256} + value; /* a value */`);
      out.push('    port |= 1 << LAMP; /* lamp on */');
      out.push(`    while (count${(routine + k) % 40}-- > 0) port ^= 1;`);
      out.push('    /* a line of comment between the statements */');
    }
    out.push(routine > 0 ? `    return routine${routine - 1}(value);` : '    return value;', '}');
  }
  while (out.length < lines - 1) out.push('/* the end is near */');
  out.push('int main(void) { return routine0(port); }');
  return out;
}

const capabilities = {
  textDocument: {
    hover: { contentFormat: ['markdown'] },
    completion: { completionItem: { snippetSupport: false, documentationFormat: ['markdown'] } },
    codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix', 'refactor', 'source'] } }, resolveSupport: { properties: ['edit'] }, dataSupport: true },
    semanticTokens: {
      requests: { full: true }, formats: ['relative'], tokenModifiers: ['declaration'],
      tokenTypes: ['variable', 'function', 'macro', 'number', 'comment', 'keyword', 'operator', 'label', 'string', 'type', 'parameter'],
    },
    publishDiagnostics: { versionSupport: true },
  },
};

async function measure(server, lines) {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'requests-'));
  const text = server.c ? cProgram(lines) : program(lines);
  // One name written wrong, for which both servers have a repair.
  const use = server.c ? /count\d+ = / : /movwf   count\d+/;
  const wrong = text.findIndex((line, number) => number > lines / 2 && use.test(line));
  text[wrong] = text[wrong].replace(/count/, 'cuont');
  const file = path.join(folder, server.c ? 'program.c' : 'program.asm');
  fs.writeFileSync(file, text.join('\n'));
  const uri = pathToFileURL(file).href;
  const client = new Client(server.command, server.c ? ['--background-index=false', '--log=error'] : ['serve', '--stdio']);
  await client.request('initialize', { processId: process.pid, rootUri: pathToFileURL(folder).href, capabilities });
  client.notify('initialized', {});
  let reported = client.diagnosticsOf(1);
  client.notify('textDocument/didOpen', { textDocument: { uri, languageId: server.c ? 'c' : 'asm', version: 1, text: text.join('\n') } });
  await reported;

  const places = text.flatMap((line, number) => (use.test(line) ? [{ line: number, character: line.indexOf('count') + 2 }] : []));
  const textDocument = { uri };
  // The letters typed so far are those before the place: 'co'.
  const questions = {
    hover: position => ['textDocument/hover', { textDocument, position }],
    completion: position => ['textDocument/completion', { textDocument, position }],
    'semantic tokens': () => ['textDocument/semanticTokens/full', { textDocument }],
    'code actions': (_, diagnostics) => {
      const there = diagnostics.filter(problem => problem.range.start.line === wrong);
      return ['textDocument/codeAction', { textDocument, range: there[0].range, context: { diagnostics: there } }];
    },
  };
  const results = {};
  let version = 1;
  for (const [name, question] of Object.entries(questions)) {
    const times = [];
    let answered = 0;
    for (let i = 0; i < rounds + warmup; i++) {
      const position = places[(i * 7919) % places.length];
      // An edit before each question, or the same answer might be handed out again: a blank at the end of a comment, and away again.
      const line = text.length - 3 - (i >> 1) % 2;
      const column = text[line].length;
      const typed = i % 2 === 0;
      reported = client.diagnosticsOf(++version);
      client.notify('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [{ range: { start: { line, character: column }, end: { line, character: column + (typed ? 0 : 1) } }, text: typed ? ' ' : '' }],
      });
      const [method, asked] = question(position, (await reported).diagnostics);
      const start = performance.now();
      const answer = await client.request(method, asked);
      if (i >= warmup) times.push(performance.now() - start);
      const size = answer?.data?.length ?? answer?.items?.length ?? (Array.isArray(answer) ? answer.length : answer ? 1 : 0);
      if (size > 0) answered++;
    }
    times.sort((a, b) => a - b);
    results[name] = { median: times[Math.floor(times.length / 2)], p95: times[Math.floor(times.length * 0.95)], answered };
  }

  await client.request('shutdown', null);
  client.notify('exit');
  await client.ended;
  fs.rmSync(folder, { recursive: true, force: true });
  return results;
}

console.log('| request | lines | server | median ms | p95 ms | with an answer |');
console.log('| --- | --- | --- | --- | --- | --- |');
for (const lines of lengths) {
  for (const server of servers) {
    for (const [name, { median, p95, answered }] of Object.entries(await measure(server, lines))) {
      console.log(`| ${name} | ${lines} | ${server.name} | ${median.toFixed(2)} | ${p95.toFixed(2)} | ${answered} of ${rounds + warmup} |`);
    }
  }
}
