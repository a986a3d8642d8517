// `npm run bench -- NAME`: runs tests/bench/NAME.ts against a database, a data folder and a browser of its own.
// Progress goes to the standard error; the last line of the standard output is one JSON object.
import { randomBytes, randomUUID } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { ensureChromium } from './chromium.mjs';
import { alone, build, inRoot, prepare, runProgram, say, TOOLS, Trouble } from './steps.mjs';

const folder = inRoot('tests/bench');

// These ask the program as it is served.
const OF_THE_BUILT_PROGRAM = ['refusals', 'faults'];

const benches = () =>
  existsSync(folder)
    ? readdirSync(folder)
        .filter((file) => file.endsWith('.ts'))
        .map((file) => file.slice(0, -3))
    : [];

export async function bench(name) {
  if (!benches().includes(name)) {
    throw new Trouble(
      `Name a benchmark: npm run bench -- NAME, where NAME is one of ${benches().join(', ')}.`,
    );
  }
  await alone(prepare);
  if (OF_THE_BUILT_PROGRAM.includes(name)) await alone(build);
  const chromium = ensureChromium(say);
  const { joinTestServer } = await import('./test-database.mjs');
  const { default: pg } = await import('pg');
  const server = await joinTestServer();
  const database = `bench_${randomUUID().replaceAll('-', '')}`;
  const dataDir = mkdtempSync(path.join(tmpdir(), 'cagepost-bench-'));
  const admin = new pg.Client({ connectionString: server.url.replace('DATABASE', 'postgres') });
  await admin.connect();
  try {
    await admin.query(`CREATE DATABASE ${database} TEMPLATE ${server.template}`);
    const env = {
      DATABASE_URL: server.url.replace('DATABASE', database),
      DATA_DIR: dataDir,
      NEXTAUTH_SECRET: randomBytes(32).toString('base64url'),
      NEXTAUTH_URL: 'http://127.0.0.1:3000',
      CAGEPOST_EMBEDDED: '1',
      CHROMIUM_PATH: chromium,
      TZ: 'UTC',
    };
    say(`bench ${name}`);
    return await runProgram(process.execPath, [TOOLS.tsx, path.join(folder, `${name}.ts`)], {
      env,
      isPlain: true,
    });
  } finally {
    // A benchmark may have made more of them, named after this one.
    const { rows } = await admin.query('SELECT datname FROM pg_database WHERE starts_with(datname, $1)', [
      database,
    ]);
    for (const { datname } of rows) await admin.query(`DROP DATABASE IF EXISTS ${datname} WITH (FORCE)`);
    await admin.end();
    await server.leave();
    rmSync(dataDir, { recursive: true, force: true });
  }
}
