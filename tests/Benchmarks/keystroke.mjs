// Time from a keystroke to its diagnostics, as a client sees it: median and 95th percentile, on programs of several lengths.
//   node tests/Benchmarks/keystroke.mjs RELIST [RELIST ...]
// Each RELIST is an executable (native, or the framework-dependent build); they are run in turn, round by round, so that
// the figures of one call can be compared. Needs Node.js only.
import { performance } from 'node:perf_hooks';
import { Client, program } from './client.mjs';

const commands = process.argv.slice(2);
if (commands.length === 0) {
  console.error('usage: node keystroke.mjs RELIST [RELIST ...]');
  process.exit(2);
}

const lengths = [200, 2000, 10000];
const keystrokes = Number(process.env.KEYSTROKES ?? 120);
const warmup = 30;

async function measure(command, lines) {
  const client = new Client(command);
  const uri = 'file:///bench/program.asm';
  await client.request('initialize', { processId: process.pid, rootUri: null, capabilities: { textDocument: { publishDiagnostics: { versionSupport: true } } } });
  client.notify('initialized', {});
  const text = program(lines);
  let arrived = client.diagnosticsOf(1);
  client.notify('textDocument/didOpen', { textDocument: { uri, languageId: 'asm', version: 1, text: text.join('\n') } });
  await arrived;
  const times = [];
  for (let i = 0; i < keystrokes + warmup; i++) {
    // A letter typed at the end of a line somewhere in the program, and taken away again at the next stroke: half of the
    // versions have a problem or a longer comment, half are whole.
    const typed = i % 2 === 0;
    const line = 60 + (((i >> 1) * 7919) % (lines - 80));
    const column = text[line].length;
    arrived = client.diagnosticsOf(i + 2);
    const start = performance.now();
    client.notify('textDocument/didChange', {
      textDocument: { uri, version: i + 2 },
      contentChanges: [{ range: { start: { line, character: column }, end: { line, character: column + (typed ? 0 : 1) } }, text: typed ? 'x' : '' }],
    });
    await arrived;
    if (i >= warmup) times.push(performance.now() - start);
  }

  await client.request('shutdown', null);
  client.notify('exit');
  times.sort((a, b) => a - b);
  return { median: times[Math.floor(times.length / 2)], p95: times[Math.floor(times.length * 0.95)], most: times.at(-1) };
}

console.log('| lines | build | median ms | p95 ms | most ms |');
console.log('| --- | --- | --- | --- | --- |');
for (const lines of lengths) {
  for (const command of commands) {
    const { median, p95, most } = await measure(command, lines);
    console.log(`| ${lines} | ${command} | ${median.toFixed(2)} | ${p95.toFixed(2)} | ${most.toFixed(2)} |`);
  }
}
