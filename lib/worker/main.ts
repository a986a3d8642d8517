import { availableParallelism } from 'node:os';
import path from 'node:path';
import { asSystem } from '@/lib/auth/system';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import { createCaptioner } from '@/lib/platform/captions';
import { systemClock } from '@/lib/platform/clock';
import { env } from '@/lib/platform/env';
import { systemIds } from '@/lib/platform/ids';
import { log } from '@/lib/platform/log';
import { createMailer } from '@/lib/platform/mailer';
import { createMediaEngine } from '@/lib/platform/media/engine';
import { connectQueue, createQueue } from '@/lib/platform/queue';
import { stopAddress } from '@/lib/platform/stop-address';
import { createStorage } from '@/lib/platform/storage';
import { VERSION } from '@/lib/platform/version';
import { writeZip } from '@/lib/platform/zip-file';
import { planFilm } from '@/lib/review/export/film-plan';
import { assembleBreakdown } from '@/lib/workflows/assemble-breakdown';
import { keepDeadlines } from '@/lib/workflows/keep-deadlines';
import { makeCaptions } from '@/lib/workflows/make-captions';
import { makeCopy } from '@/lib/workflows/make-copy';
import { makeSound } from '@/lib/workflows/make-sound';
import type { Ports } from '@/lib/workflows/ports';
import { prepareClip } from '@/lib/workflows/prepare-clip';
import { renderExport } from '@/lib/workflows/render-export';
import { tellDue } from '@/lib/workflows/tell-due';
import { turnAges } from '@/lib/workflows/turn-ages';
import { writeDigests } from '@/lib/workflows/write-digests';
import { drainOutbox } from '@/lib/workflows/run-outbox';
import { startWorker } from './worker';

// The worker's process: joins the ports to the workflows and runs until it is told to end.

const system = asSystem('worker');
const boss = await connectQueue({ databaseUrl: env.DATABASE_URL, isWorker: true, log });
const ports: Ports = {
  clock: systemClock,
  ids: systemIds,
  log,
  storage: createStorage({ dataFolder: env.DATA_DIR, uploadthingToken: env.UPLOADTHING_TOKEN }),
  queue: createQueue(() => Promise.resolve(boss)),
};
const mailer = createMailer({ smtpUrl: env.SMTP_URL, from: env.MAIL_FROM, dataFolder: env.DATA_DIR });
const engine = createMediaEngine({
  scratch: path.join(env.DATA_DIR, 'scratch'),
  maxBytes: env.CLIP_MAX_BYTES,
  maxSeconds: env.CLIP_MAX_SECONDS,
  children: availableParallelism(),
});

const captioner = env.CAPTIONS_URL
  ? createCaptioner({ url: env.CAPTIONS_URL, token: env.CAPTIONS_TOKEN })
  : null;

const stopUrl = (personId: string, kind: string) =>
  stopAddress(env.NEXTAUTH_SECRET, env.NEXTAUTH_URL, { personId, kind });

let isEnding = false;
const stop = await startWorker({
  boss,
  ports,
  version: VERSION,
  jobs: {
    prepareClip: (clipId) => prepareClip({ ...ports, engine }, system, clipId),
    workOnBreakdown: ({ kind, breakdownId }) => {
      const id = breakdownId as BreakdownId;
      if (kind === 'sound') return makeSound({ ...ports, engine }, system, id);
      if (kind === 'captions') return makeCaptions({ ...ports, captioner }, system, id);
      return assembleBreakdown({ ...ports, engine, hasCaptioner: captioner !== null }, system, id);
    },
    renderExport: (exportId) => renderExport({ ...ports, engine, planFilm }, system, exportId),
    makeCopy: (copyId) => makeCopy({ ...ports, engine, writeZip }, system, copyId),
    keepDeadlines: () => keepDeadlines(ports, system),
    turnAges: async () => {
      const told = await turnAges(ports, system);
      if (told > 0) log.info({ told }, 'birthdays after which other rules hold');
    },
    tellDue: async () => {
      const told = await tellDue(ports, system);
      const digests = await writeDigests(ports, system);
      if (told + digests > 0) log.info({ told, digests }, 'what was due is told');
    },
    drainOutbox: async () => {
      const sent = await drainOutbox(
        { ...ports, mailer, siteUrl: env.NEXTAUTH_URL, stopUrl, isEnding: () => isEnding },
        system,
      );
      if (sent > 0) log.info({ sent }, 'mail sent');
    },
  },
});
log.info({ version: VERSION }, 'worker is at work');

for (const signal of ['SIGTERM', 'SIGINT'] as const) {
  process.on(signal, () => {
    if (isEnding) return;
    isEnding = true;
    stop()
      .then(() => engine.close())
      .catch((error: unknown) => log.error({ err: error }, 'the worker did not end in order'))
      .finally(() => process.exit());
  });
}
