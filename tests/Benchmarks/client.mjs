// What the measurements share: a program to measure on, and a client that only measures.
import { spawn } from 'node:child_process';

// A program of ordinary lines: variables, defines, routines, calls, tables, comments.
export function program(lines) {
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

export class Client {
  constructor(command, args = ['serve', '--stdio']) {
    this.process = spawn(command, args, { stdio: ['pipe', 'pipe', 'ignore'] });
    this.ended = new Promise((resolve) => this.process.on('exit', resolve));
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
