// Checks recorded messages (JSON lines of { from, message }) against the published types of LSP 3.17.
import { readFileSync, readdirSync, existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Ajv from 'ajv';
import { methods, schema } from './schema.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const folder = process.argv[2] ?? join(here, '../AsmLsp.LanguageServer.Tests/bin/Debug/net10.0/recorded');
if (!existsSync(folder)) {
  console.error(`There is no folder ${folder}: run the server tests first.`);
  process.exit(2);
}

const known = methods();
const ajv = new Ajv({ strict: false, allErrors: false, allowUnionTypes: true });
ajv.addSchema(schema(known), 'lsp');
const compiled = new Map();
function validator(key) {
  if (!compiled.has(key)) {
    const pointer = `lsp#/definitions/Messages/properties/${key.replaceAll('~', '~0').replaceAll('/', '~1').replaceAll('#', '%23').replaceAll('$', '%24')}`;
    compiled.set(key, ajv.compile({ $ref: pointer }));
  }
  return compiled.get(key);
}

const seen = new Map();
function note(key, fault, where) {
  const entry = seen.get(key) ?? { count: 0, faults: [] };
  entry.count++;
  if (fault) entry.faults.push(`${fault} (${where})`);
  seen.set(key, entry);
}

function faultOfParams(entry, method, message) {
  if (!entry.params) return message.params === undefined || message.params === null ? null : 'parameters where there are none';
  if (message.params === undefined) return 'parameters are missing';
  return valid(`${method}#params`, message.params);
}

function valid(key, value) {
  const check = validator(key);
  return check(value) ? null : `${ajv.errorsText(check.errors)} in ${JSON.stringify(value).slice(0, 400)}`;
}

function faultOfAnswer(entry, method, message) {
  const hasResult = 'result' in message, hasError = 'error' in message;
  if (hasResult === hasError) return 'an answer carries a result or an error, one of them';
  if (hasError) {
    const { code, message: text, ...rest } = message.error;
    if (!Number.isInteger(code) || typeof text !== 'string') return `an error needs a whole number and a text: ${JSON.stringify(message.error)}`;
    return Object.keys(rest).every(name => name === 'data') ? null : `an error with more than code, message and data: ${JSON.stringify(message.error)}`;
  }
  if (!entry.result || entry.result === 'void') return message.result === null ? null : 'the result should be null';
  return valid(`${method}#result`, message.result);
}

for (const file of readdirSync(folder).filter(name => name.endsWith('.jsonl'))) {
  const open = { client: new Map(), server: new Map() };
  readFileSync(join(folder, file), 'utf8').split('\n').filter(line => line).forEach((line, index) => {
    const { from, message } = JSON.parse(line);
    const where = `${file}:${index + 1}`;
    const other = from === 'client' ? 'server' : 'client';
    if (message.jsonrpc !== '2.0') note('envelope', 'jsonrpc is not "2.0"', where);
    if ('method' in message) {
      const entry = known.get(message.method);
      const key = `${from} ${'id' in message ? 'request' : 'notification'} ${message.method}`;
      if (!entry) return note(key, 'no such method in LSP 3.17', where);
      if (entry.isRequest !== 'id' in message) return note(key, 'a request has an id, a notification has none', where);
      if (entry.direction !== 'both' && entry.direction !== `${from}To${other[0].toUpperCase()}${other.slice(1)}`) return note(key, `it goes the other way (${entry.direction})`, where);
      if (entry.isRequest) open[from].set(JSON.stringify(message.id), message.method);
      return note(key, faultOfParams(entry, message.method, message), where);
    }
    // An answer to what could not be read, or to a message sent on purpose outside the record.
    const method = open[other].get(JSON.stringify(message.id));
    if (method === undefined) {
      const free = message.error ? faultOfAnswer({}, '', message) : ('result' in message ? null : 'neither result nor error');
      return note(`${from} answer outside the record`, 'id' in message ? free : 'an answer without an id', where);
    }
    note(`${from} answer ${method}`, faultOfAnswer(known.get(method), method, message), where);
  });
}

let failed = 0, number = 0;
for (const [key, { count, faults }] of [...seen].sort(([a], [b]) => a.localeCompare(b))) {
  console.log(`${faults.length ? 'not ok' : 'ok'} ${++number} - ${key} (${count})`);
  for (const fault of faults.slice(0, 5)) console.log(`  # ${fault}`);
  failed += faults.length ? 1 : 0;
}
console.log(`1..${number}`);
if (number === 0) console.error('No message was recorded.');
process.exit(failed || number === 0 ? 1 : 0);
