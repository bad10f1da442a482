// Time from a keystroke to its diagnostics, as a client sees it: median and 95th percentile, on programs of several lengths.
//   node tests/Benchmarks/keystroke.mjs RELIST [RELIST ...]
// Each RELIST is an executable (native, or the framework-dependent build); they are run in turn, round by round, so that
// the figures of one call can be compared. Needs Node.js only.
import { spawn } from 'node:child_process';
import { performance } from 'node:perf_hooks';

const commands = process.argv.slice(2);
if (commands.length === 0) {
  console.error('usage: node keystroke.mjs RELIST [RELIST ...]');
  process.exit(2);
}

const lengths = [200, 2000, 10000];
const keystrokes = Number(process.env.KEYSTROKES ?? 120);
const warmup = 30;

// A program of ordinary lines: variables, defines, routines, calls, tables, comments.
function program(lines) {
  const out = [' list p=16f877a', '#include <p16f877a.inc>', ' __config _CP_OFF & _WDT_OFF & _XT_OSC & _LVP_OFF & _BODEN_OFF', '#define LAMP PORTB,0', ' cblock 0x20'];
  for (let i = 0; i < 40; i++) out.push(` count${i}`);
  out.push(' endc', ' org 0', ' goto start', ' org 5', 'start');
  const tail = 4;
  let routine = 0;
  while (out.length < lines - tail - 12) {
    out.push(`routine${routine}                  ; what routine ${routine} does`);
    for (let k = 0; k < 2; k++) {
      out.push(`        movlw   d'${(routine * 7 + k) % 256}'       ; a value`);
      out.push(`        movwf   count${(routine + k) % 40}`);
      out.push('        bsf     LAMP            ; lamp on');
      out.push(`        decfsz  count${(routine + k) % 40},f`);
      out.push('        goto    $-2');
      out.push('; a line of comment between the instructions');
    }
    out.push(routine % 3 === 0 && routine > 0 ? `        call    routine${routine - 1}` : '        nop');
    out.push('        return');
    routine++;
  }
  while (out.length < lines - 1) out.push('; the end is near');
  out.push(' end');
  return out;
}

class Client {
  constructor(command) {
    this.process = spawn(command, ['serve', '--stdio'], { stdio: ['pipe', 'pipe', 'ignore'] });
    this.buffer = Buffer.alloc(0);
    this.waiting = new Map();
    this.diagnostics = () => {};
    this.id = 0;
    this.process.stdout.on('data', (data) => this.take(data));
  }

  take(data) {
    this.buffer = Buffer.concat([this.buffer, data]);
    for (;;) {
      const head = this.buffer.indexOf('\r\n\r\n');
      if (head < 0) return;
      const length = Number(/Content-Length: (\d+)/i.exec(this.buffer.subarray(0, head).toString())[1]);
      if (this.buffer.length < head + 4 + length) return;
      const message = JSON.parse(this.buffer.subarray(head + 4, head + 4 + length).toString());
      this.buffer = this.buffer.subarray(head + 4 + length);
      if (message.method === 'textDocument/publishDiagnostics') this.diagnostics(message.params);
      else if (message.method && message.id !== undefined) this.send({ id: message.id, result: null });
      else if (this.waiting.has(message.id)) this.waiting.get(message.id)(message.result);
    }
  }

  send(message) {
    const body = Buffer.from(JSON.stringify({ jsonrpc: '2.0', ...message }));
    this.process.stdin.write(`Content-Length: ${body.length}\r\n\r\n`);
    this.process.stdin.write(body);
  }

  request(method, params) {
    const id = ++this.id;
    return new Promise((resolve) => {
      this.waiting.set(id, resolve);
      this.send({ id, method, params });
    });
  }

  notify(method, params) {
    this.send({ method, params });
  }

  diagnosticsOf(version) {
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => reject(new Error(`no diagnostics of version ${version} within 20 s`)), 20000);
      this.diagnostics = (params) => {
        if (params.version !== undefined && params.version < version) return;
        clearTimeout(timer);
        resolve(params);
      };
    });
  }
}

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
