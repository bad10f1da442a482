// Pages per second: reading a long print, and recovering the program from it, beside pdftotext -layout on the same file.
//   node tests/Benchmarks/pages.mjs RELIST [RELIST ...]
// Each RELIST is an executable; all are run in turn, round by round, so that the figures of one call can be compared. The print
// is made by groff: a book of PAGES pages, CODE of them a program in Courier, the others prose. Needs Node.js, groff with its PDF device,
// and poppler-utils.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { program } from './client.mjs';

const commands = process.argv.slice(2);
if (commands.length === 0) {
  console.error('usage: node pages.mjs RELIST [RELIST ...]');
  process.exit(2);
}

const pages = Number(process.env.PAGES ?? 200);
const codePages = Number(process.env.CODE ?? 20);
const rounds = Number(process.env.ROUNDS ?? 15);
const linesOfPage = 60;
const folder = mkdtempSync(join(tmpdir(), 'pages-'));

function run(command, ...words) {
  const done = spawnSync(command, words, { maxBuffer: 1 << 28 });
  if (done.error) throw done.error;
  return done;
}

// Half of the lines are remarks: no chip holds the words of so many pages.
function listing() {
  const count = codePages * linesOfPage;
  const code = program(Math.floor(count / 2));
  code.pop();
  const lines = [];
  for (let i = 0; lines.length < count - 1; i++) {
    if (lines.length < count - 1 - (code.length - i)) lines.push(`; remark ${i}: what stands below is explained here, with some forty letters`);
    if (i < code.length) lines.push(code[i]);
  }

  return [...lines, '        end'];
}

function print() {
  const words = 'the supply is checked with a meter before the chip goes into its socket and the lamps are set to the first step of the hour'.split(' ');
  const prose = line => Array.from({ length: 14 }, (_, i) => words[(line * 5 + i * (1 + line % 3)) % words.length]).join(' ') + '.';
  const code = listing().map(line => '\\&' + line.replace(/\\/g, '\\[rs]').replace(/-/g, '\\-').replace(/'/g, '\\[aq]').replace(/"/g, '\\[dq]'));
  const first = Math.floor((pages - codePages) / 2);
  const text = [];
  for (let page = 0; page < pages; page++) {
    const isCode = page >= first && page < first + codePages;
    if (page > 0) text.push('.bp');
    text.push(isCode ? '.ft CR' : '.ft R');
    for (let line = 0; line < linesOfPage; line++) text.push(isCode ? code[(page - first) * linesOfPage + line] : prose(page * linesOfPage + line));
  }

  writeFileSync(join(folder, 'print.tr'), `.pl 842p\n.po 40p\n.ll 540p\n.nf\n.nh\n.ps 8\n.vs 12\n${text.join('\n')}\n`);
  const pdf = run('groff', '-Tpdf', '-P-pa4', join(folder, 'print.tr')).stdout;
  writeFileSync(join(folder, 'print.pdf'), pdf);
  const info = run('pdfinfo', join(folder, 'print.pdf')).stdout.toString();
  const count = Number(/Pages:\s+(\d+)/.exec(info)[1]);
  if (count !== pages) throw new Error(`${count} pages were printed, not ${pages}`);
  return join(folder, 'print.pdf');
}

try {
  const file = print();
  const source = join(folder, 'print.asm');
  const jobs = [['pdftotext -layout', 'text', () => run('pdftotext', '-layout', file, join(folder, 'print.txt'))]];
  for (const command of commands) {
    jobs.push([command, 'program recovered', () => { rmSync(source, { force: true }); return run(command, 'recover', file, '-o', source); }]);
  }

  const times = jobs.map(() => []);
  for (let round = 0; round < rounds + 1; round++) {
    jobs.forEach(([, , job], i) => {
      const start = performance.now();
      const done = job();
      const time = performance.now() - start;
      // A program with doubts ends with 1.
      if (done.status > 1 || done.status === null) throw new Error(`${jobs[i][0]} ended with ${done.status}: ${done.stderr}`);
      if (round > 0) times[i].push(time);
    });
  }

  const recovered = readFileSync(source, 'utf8').split('\n').length - 1;
  console.log(`${pages} pages, ${codePages} of a program, ${recovered} lines recovered, ${rounds} rounds\n`);
  console.log('| reader | gives | pages a second: median | p95 | median ms |');
  console.log('| --- | --- | --: | --: | --: |');
  jobs.forEach(([name, gives], i) => {
    const sorted = times[i].sort((a, b) => a - b);
    const median = sorted[Math.floor(sorted.length / 2)], slow = sorted[Math.floor(sorted.length * 0.95)];
    console.log(`| ${name} | ${gives} | ${Math.round(pages * 1000 / median)} | ${Math.round(pages * 1000 / slow)} | ${Math.round(median)} |`);
  });
} finally {
  rmSync(folder, { recursive: true, force: true });
}
