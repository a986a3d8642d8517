import { mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { Client } from 'pg';
import { migrate } from '../../scripts/database.mjs';
import { listActions } from '../support/action-client';
import { Book } from './faults/book';
import { startMailServer } from '../support/mail-server';
import { type Crash, judgeMails, notedMails, type Noted } from './faults/mails';
import { freePort, Machine, VICTIMS } from './faults/machine';
import { later, until } from './faults/waiting';

// Lessons are sent, returned and paid, packs sold, clips uploaded and mails sent through the built program, all the time
// and with ids that the clients mint, while its server, its worker and its database are killed with SIGKILL and started
// again. Afterwards everything that was acknowledged must be there, nothing twice, and every sum what its entries say.
// BENCH_TRIALS: how many kills; 102 unless set. The last line is one JSON object:
// `acknowledged` commands, of which `lost` are missing; `doubled` rows and mails; `inconsistent` findings and refusals.

const TRIALS = Number(process.env.BENCH_TRIALS ?? 102);
const PLAYERS = 6;
/** So many commands are acknowledged between two kills at least. */
const AT_WORK = 4;
const QUIET_MS = 180_000;
const WEBHOOK_SECRET = 'whsec_bench';

const say = (line: string) => console.error(line);
const root = path.resolve(import.meta.dirname, '../..');
const home = await mkdtemp(path.join(os.tmpdir(), 'bench-faults-'));
const dataDir = path.join(home, 'data');
const origin = `http://127.0.0.1:${await freePort()}`;
const secret = 'a secret that is only ever used by this benchmark';
const mails = await startMailServer();

const env: NodeJS.ProcessEnv = {
  ...process.env,
  ...{ NODE_ENV: 'production', TZ: 'UTC', LOG_LEVEL: 'error', NEXT_TELEMETRY_DISABLED: '1' },
  ...{ DATA_DIR: dataDir, NEXTAUTH_URL: origin, NEXTAUTH_SECRET: secret, SMTP_URL: mails.url },
  ...{ STRIPE_SECRET_KEY: 'sk_test_bench', STRIPE_WEBHOOK_SECRET: WEBHOOK_SECRET, CAGEPOST_EMBEDDED: '0' },
  TSX_TSCONFIG_PATH: path.join(root, 'tsconfig.json'),
};
const machine = new Machine({ home: path.join(home, 'db'), databasePort: await freePort(), origin, env });
const url = await machine.startDatabase();
env.DATABASE_URL = url;
await migrate(env);

// These read the address of the database where they are loaded.
Object.assign(process.env, { DATABASE_URL: url, NEXTAUTH_URL: origin, DATA_DIR: dataDir });
const { makeWorld } = await import('./faults/world');
const { liveOn, sqlThrough } = await import('./faults/stories');
const { aClip, sendClips } = await import('./faults/uploads');
const { findFaults } = await import('./faults/checks');

const world = await makeWorld(PLAYERS + 1, secret);
const clip = await aClip(home);
const sql = sqlThrough(async () => {
  const client = new Client({ connectionString: url });
  client.on('error', () => {});
  await client.connect();
  return client;
});
machine.start('worker');
machine.start('server');
await machine.serves();

const book = new Book();
const actions = listActions(path.join(root, '.next'));
const stage = { origin, actions, world, book, webhookSecret: WEBHOOK_SECRET, sql };
let isOver = false;
const [uploader, ...players] = world.players;
const clients = [
  ...players.map((player) => liveOn(stage, player, () => isOver)),
  sendClips(stage, uploader!, clip, () => isOver),
];
// A client that falls ends the benchmark, not only itself.
let fallen: unknown;
for (const client of clients) client.catch((error: unknown) => (fallen ??= error));

const crashes: Crash[] = [];
const noted: Noted[] = [];
const begun = Date.now();
for (let trial = 0; trial < TRIALS && fallen === undefined; trial += 1) {
  // What was killed last has to be at work again, else there is nothing to lose.
  const before = book.acknowledged.length;
  await until(() => book.acknowledged.length >= before + AT_WORK || fallen !== undefined, {
    what: 'further work',
    patienceMs: 120_000,
  });
  await later(Math.random() * 1000);
  const victim = VICTIMS[trial % VICTIMS.length]!;
  noted.push(await notedMails(sql));
  const from = Date.now();
  await machine.kill(victim);
  await machine.revive(victim);
  crashes.push({ from, to: Date.now() });
  // Few people work here at the pace of many; how much one may do in an hour is not what is tried.
  await sql('DELETE FROM "RateLimit"');
  if (trial % 10 === 9) {
    const { length } = book.acknowledged;
    say(
      `${trial + 1} kills, ${length} acknowledged, ${book.retries} tried again, ${mails.taken.length} mails`,
    );
  }
}
isOver = true;
await Promise.all(clients);
say(`all clients have their answers, ${Math.round((Date.now() - begun) / 1000)} s after the first kill`);

// Quiet hours and pauses after failures are not waited for.
await sql('UPDATE "OutboxMail" SET "notBefore" = now() WHERE "sentAt" IS NULL');
const count = async (text: string) => Number(((await sql(text)) as { rows: { n: string }[] }).rows[0]?.n);
await until(
  async () =>
    (await count(`SELECT count(*) AS n FROM "OutboxMail" WHERE "sentAt" IS NULL`)) === 0 &&
    (await count(`SELECT count(*) AS n FROM "Clip" WHERE "storageKey" IS NOT NULL AND state <> 'ready'`)) ===
      0 &&
    (await count(`SELECT count(*) AS n FROM pgboss.job WHERE state IN ('active', 'retry')`)) === 0,
  { what: 'quiet', patienceMs: QUIET_MS, everyMs: 500 },
).catch((error: unknown) => say(String(error)));
noted.push(await notedMails(sql));
await machine.endPrograms();

const client = new Client({ connectionString: url });
await client.connect();
const found = await findFaults(client, dataDir, book.acknowledged);
const judged = judgeMails(mails.taken, noted, crashes);
const { rows: outbox } = await client.query<{ id: string }>('SELECT id FROM "OutboxMail"');
found.lost.push(
  ...outbox.filter(({ id }) => !judged.ids.has(id)).map(({ id }) => `mail ${id} never arrived`),
);
found.doubled.push(...judged.doubled);
found.inconsistent.push(...book.refused.map((line) => `refused when tried again: ${line}`));
await client.end();
await machine.endDatabase();
await mails.stop();
if (fallen !== undefined) found.inconsistent.push(`a client fell: ${String(fallen)}`);

for (const [kind, lines] of Object.entries(found)) {
  for (const line of lines.slice(0, 20)) say(`${kind}: ${line}`);
  if (lines.length > 20) say(`${kind}: and ${lines.length - 20} more`);
}
say(
  `${judged.repeated} of ${mails.taken.length} mails went again because a crash came before they were noted`,
);
if (found.inconsistent.length > 0 || process.env.BENCH_LOG) say(machine.said.join('').slice(-20_000));
await rm(home, { recursive: true, force: true });
console.log(
  JSON.stringify({
    trials: TRIALS,
    acknowledged: book.acknowledged.length,
    lost: found.lost.length,
    doubled: found.doubled.length,
    inconsistent: found.inconsistent.length,
  }),
);
