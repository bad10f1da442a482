// Time from starting the process to the answer of 'initialize', as a client sees it.
//   node tests/Benchmarks/start.mjs RELIST [RELIST ...]
import { spawn } from 'node:child_process';
import { performance } from 'node:perf_hooks';

const runs = Number(process.env.RUNS ?? 40);
const body = JSON.stringify({ jsonrpc: '2.0', id: 1, method: 'initialize', params: { processId: process.pid, rootUri: null, capabilities: {} } });

function once(command) {
  return new Promise((resolve, reject) => {
    const start = performance.now();
    const server = spawn(command, ['serve', '--stdio'], { stdio: ['pipe', 'pipe', 'ignore'] });
    server.on('error', reject);
    server.stdout.once('data', () => {
      resolve(performance.now() - start);
      server.kill();
    });
    server.stdin.write(`Content-Length: ${Buffer.byteLength(body)}\r\n\r\n${body}`);
  });
}

console.log('| build | median ms | p95 ms |');
console.log('| --- | --- | --- |');
for (const command of process.argv.slice(2)) {
  const times = [];
  for (let i = 0; i < runs + 5; i++) {
    const time = await once(command);
    if (i >= 5) times.push(time);
  }

  times.sort((a, b) => a - b);
  console.log(`| ${command} | ${times[Math.floor(times.length / 2)].toFixed(1)} | ${times[Math.floor(times.length * 0.95)].toFixed(1)} |`);
}
