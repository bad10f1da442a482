// Makes one JSON schema for the parameters and the result of every method, straight from the published type declarations.
import { readFileSync, readdirSync, writeFileSync, mkdtempSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { createRequire } from 'node:module';
import { createGenerator } from 'ts-json-schema-generator';

const here = dirname(fileURLToPath(import.meta.url));
const require = createRequire(import.meta.url);
const declarations = join(here, 'node_modules/vscode-languageserver-protocol/lib/common');

/** Type arguments of `Name<a, b<c, d>>`, split at the commas of the outermost level. */
function typeArguments(text) {
  const parts = [];
  let depth = 0, part = '';
  for (const c of text) {
    if ('<{[('.includes(c)) depth++;
    if ('>}])'.includes(c)) depth--;
    if (c === ',' && depth === 0) { parts.push(part.trim()); part = ''; } else part += c;
  }
  return [...parts, part.trim()];
}

/** Every method with its kind, its direction and its types as they are written in the declarations. */
export function methods() {
  const protocol = require('vscode-languageserver-protocol/node');
  const found = new Map();
  for (const file of readdirSync(declarations).filter(name => /^protocol.*\.d\.ts$/.test(name))) {
    const text = readFileSync(join(declarations, file), 'utf8');
    const pattern = /declare namespace (\w+) \{([\s\S]*?)\n\}/g;
    for (const [, name, body] of text.matchAll(pattern)) {
      const method = /const method: ['`]([^'`]+)['`]/.exec(body)?.[1];
      const type = /const type: (?:ProtocolRequestType0?|ProtocolNotificationType0?|NotificationType0?|RequestType0?)<([\s\S]*)>;/.exec(body);
      const kind = /const type: (\w+?)Type(0?)</.exec(body);
      if (!method || !type) continue;
      const parts = typeArguments(type[1]);
      const bare = kind[2] === '0';
      const isRequest = kind[1].endsWith('Request');
      found.set(method, {
        isRequest,
        direction: protocol[name]?.messageDirection ?? 'both',
        params: bare ? null : parts[0],
        result: isRequest ? parts[bare ? 0 : 1] : null,
      });
    }
  }
  // Declared without a namespace of its own: cancelling (JSON-RPC), progress and tracing.
  found.set('$/cancelRequest', { isRequest: false, direction: 'both', params: '{ id: integer | string }', result: null });
  found.set('$/progress', { isRequest: false, direction: 'both', params: '{ token: ProgressToken, value: WorkDoneProgressBegin | WorkDoneProgressReport | WorkDoneProgressEnd | LSPAny[] }', result: null });
  found.set('$/setTrace', { isRequest: false, direction: 'clientToServer', params: 'SetTraceParams', result: null });
  found.set('$/logTrace', { isRequest: false, direction: 'serverToClient', params: 'LogTraceParams', result: null });
  return found;
}

/** The schema: one property `method#params` or `method#result` for each. */
export function schema(all) {
  const names = new Set();
  const lines = [];
  for (const [method, entry] of all) {
    for (const part of ['params', 'result']) {
      const type = entry[part];
      if (!type || type === 'void' || type === 'undefined') continue;
      const text = type === 'any' ? 'any' : type.replace(/\bvoid\b/g, 'null');
      lines.push(`  ${JSON.stringify(`${method}#${part}`)}: ${text};`);
      // Names of types, but not those of properties (`id:`).
      for (const [name] of text.matchAll(/\b[A-Za-z]\w*\b(?!\??:)/g)) {
        if (!['null', 'undefined', 'any', 'string', 'number', 'boolean', 'never', 'object'].includes(name)) names.add(name);
      }
    }
  }
  const folder = mkdtempSync(join(here, 'node_modules/.schema-'));
  try {
    const file = join(folder, 'messages.ts');
    writeFileSync(file, `import { ${[...names].join(', ')} } from 'vscode-languageserver-protocol';\nexport interface Messages {\n${lines.join('\n')}\n}\n`);
    writeFileSync(join(folder, 'tsconfig.json'), JSON.stringify({ compilerOptions: { strict: true, moduleResolution: 'node', module: 'commonjs', target: 'es2020', types: [] }, files: ['messages.ts'] }));
    const made = createGenerator({ path: file, tsconfig: join(folder, 'tsconfig.json'), type: 'Messages', skipTypeCheck: true, additionalProperties: false, encodeRefs: false }).createSchema('Messages');
    return tighten(made);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** TypeScript has only `number`; the specification's `integer` and `uinteger` are whole numbers with a range. */
function tighten(made) {
  if (made.definitions.uinteger) made.definitions.uinteger = { type: 'integer', minimum: 0, maximum: 2147483647 };
  if (made.definitions.integer) made.definitions.integer = { type: 'integer', minimum: -2147483648, maximum: 2147483647 };
  return made;
}
