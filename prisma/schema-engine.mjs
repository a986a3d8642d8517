#!/usr/bin/env node
// The Prisma command line wants a native engine that it downloads on first use. This file stands in for it (see
// prisma.config.ts): the same JSON-RPC on stdin and stdout, the work done by the WebAssembly build of the same engine.
// So `migrate` works wherever npm works, and on every platform Node runs on.
import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { pathToFileURL } from 'node:url';
import { PrismaPg } from '@prisma/adapter-pg';
import { bindMigrationAwareSqlAdapterFactory, ColumnTypeEnum } from '@prisma/driver-adapter-utils';
import pg from 'pg';

const CHAR_OID = 18; // PostgreSQL's internal "char", which its catalogue uses
const TEXT_OID = 25;
const USER_FACING_ERROR = 4466; // the JSON-RPC code by which the command line recognises an explained error

const args = process.argv.slice(2);
const valuesOf = (flag) => args.flatMap((arg, index) => (arg === flag ? [args[index + 1]] : []));

if (args.includes('--version') || args.includes('-V')) {
  process.stdout.write('schema-engine-cli wasm\n');
  process.exit(0);
}

const datasource = JSON.parse(valuesOf('--datasource')[0] ?? '{}');
const datamodels = valuesOf('--datamodels').map((file) => [file, readFileSync(file, 'utf8')]);

const send = (message) => process.stdout.write(`${JSON.stringify({ jsonrpc: '2.0', ...message })}\n`);

async function runSql(url, sql) {
  const client = new pg.Client({ connectionString: url.toString() });
  await client.connect();
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
}

/** Mends two gaps of the adapter that only migrations meet. */
function mend(adapter) {
  // It has no mapping for "char" and would refuse the engine's catalogue queries: read it as a character.
  const { queryRaw } = adapter;
  adapter.queryRaw = async (query) => {
    const result = await adapter.performIO(query);
    const charColumns = result.fields.flatMap((field, index) =>
      field.dataTypeID === CHAR_OID ? [index] : [],
    );
    for (const index of charColumns) result.fields[index].dataTypeID = TEXT_OID;
    const readAsText = Object.create(adapter, { performIO: { value: async () => result } });
    const rows = await queryRaw.call(readAsText, query);
    for (const index of charColumns) rows.columnTypes[index] = ColumnTypeEnum.Character;
    return rows;
  };
  // It cuts a script at every semicolon, also inside functions and comments. The server takes it as it is.
  adapter.executeScript = async (script) => {
    try {
      await adapter.client.query(script);
    } catch (error) {
      adapter.onError(error);
    }
  };
  return adapter;
}

function adapterFactory(url) {
  const factory = new PrismaPg({ connectionString: url });
  const connect = factory.connect.bind(factory);
  factory.connect = async () => mend(await connect());
  // The adapter's own version makes the shadow database and then connects back to the main one.
  factory.connectToShadowDb = async () => {
    const name = `prisma_shadow_${randomUUID()}`;
    const shadow = new URL(url);
    shadow.pathname = `/${name}`;
    await runSql(url, `CREATE DATABASE "${name}"`);
    const adapter = mend(await new PrismaPg({ connectionString: shadow.toString() }).connect());
    const dispose = adapter.dispose.bind(adapter);
    adapter.dispose = async () => {
      await dispose();
      await runSql(url, `DROP DATABASE IF EXISTS "${name}" WITH (FORCE)`);
    };
    return adapter;
  };
  return bindMigrationAwareSqlAdapterFactory(factory);
}

async function instantiate() {
  const folder = path.dirname(createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm'));
  const bindings = await import(pathToFileURL(path.join(folder, 'schema_engine_bg.js')).href);
  const bytes = readFileSync(path.join(folder, 'schema_engine_bg.wasm'));
  const { instance } = await WebAssembly.instantiate(bytes, { './schema_engine_bg.js': bindings });
  bindings.__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start();
  return bindings;
}

// The engine reports a panic here, just before it traps.
globalThis.PRISMA_WASM_PANIC_REGISTRY = {
  set_message: (message) => process.stderr.write(`The schema engine panicked: ${message}\n`),
};

let bindings;
/** One engine object a call, so that no call depends on what an earlier one left behind. */
async function newEngine() {
  bindings ??= instantiate();
  const { SchemaEngine } = await bindings;
  const log = (line) => {
    if (process.env.DEBUG?.includes('schemaEngine')) process.stderr.write(`${JSON.stringify(line)}\n`);
  };
  return SchemaEngine.new(
    { datamodels: datamodels.length > 0 ? datamodels : undefined },
    log,
    adapterFactory(datasource.url),
  );
}

const RENAMED = { getDatabaseVersion: 'version' };
// These two reuse a shadow database that the WebAssembly engine takes only in `devDiagnostic`.
const NEED_DIAGNOSTIC = new Set(['evaluateDataLoss', 'createMigration']);

async function answer({ id, method, params }) {
  try {
    const engine = await newEngine();
    if (NEED_DIAGNOSTIC.has(method)) {
      await engine.devDiagnostic({ migrationsList: params.migrationsList, filters: params.filters });
    }
    const result = await engine[RENAMED[method] ?? method](params);
    // The native engine sends the text of a diff as a `print` call; the command line prints nothing else.
    if (method === 'diff' && result.stdout) {
      send({ id: `print-${id}`, method: 'print', params: { content: result.stdout.replace(/\n$/, '') } });
    }
    send({ id, result: result ?? null });
  } catch (error) {
    send({
      id,
      error: {
        code: USER_FACING_ERROR,
        message: 'An error happened. Check the data field for details.',
        data: {
          is_panic: false,
          message: error.message ?? String(error),
          error_code: error.code ?? null,
          meta: error.meta ?? null,
        },
      },
    });
  }
}

function serveJsonRpc() {
  let queue = Promise.resolve();
  const lines = createInterface({ input: process.stdin, crlfDelay: Infinity });
  lines.on('line', (line) => {
    const request = JSON.parse(line);
    if (!request.method) return; // the acknowledgement of a `print`
    queue = queue.then(() => answer(request));
  });
  lines.on('close', () => queue.then(() => process.exit(0)));
}

async function runCommand(command) {
  const url = new URL(datasource.url);
  const name = decodeURIComponent(url.pathname.slice(1));
  try {
    if (command === 'can-connect-to-database') {
      await runSql(url, 'SELECT 1');
    } else if (command === 'create-database') {
      const admin = new URL(url);
      admin.pathname = '/postgres';
      await runSql(admin, `CREATE DATABASE ${pg.escapeIdentifier(name)}`).catch((error) => {
        const isThere = error.code === '42P04' || error.code === '23505'; // another starter won the race
        if (!isThere) throw error;
      });
    } else {
      throw new Error(`unsupported command ${command}`);
    }
  } catch (error) {
    const [code, message] =
      error.code === '3D000'
        ? ['P1003', `Database \`${name}\` does not exist`]
        : error.code === 'ECONNREFUSED'
          ? ['P1001', `Can't reach database server at \`${url.hostname}:${url.port || 5432}\``]
          : ['P1000', String(error.message)];
    const fields = { error_code: code, message };
    process.stderr.write(
      `start\n${JSON.stringify({ level: 'ERROR', target: 'schema_engine::logger', fields })}\n`,
    );
    process.exitCode = 1;
  }
}

const cli = args.indexOf('cli');
if (cli >= 0) await runCommand(args[cli + 1]);
else serveJsonRpc();
