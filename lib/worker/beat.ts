import { hostname } from 'node:os';
import { asSystem } from '@/lib/auth/system';
import { type Beat, forgetBeats, listBeats, recordBeat } from '@/lib/data/health.system';
import type { Ports } from '@/lib/workflows/ports';
import type { AtWork } from './at-work';

const BEAT_EVERY_MS = 10_000;
const DEAD_AFTER_MS = 60_000;

const system = asSystem('worker');
const idOf = (host: string, pid: number) => `${host}/${pid}`;

const isAlive = (pid: number) => {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM';
  }
};

// Of this machine we can see whether the process is there; of another one only how long it has been silent.
const isDead = ({ id, at }: Beat, now: Date) => {
  const [host, pid] = [id.slice(0, id.lastIndexOf('/')), Number(id.slice(id.lastIndexOf('/') + 1))];
  const isSilent = now.getTime() - at.getTime() > DEAD_AFTER_MS;
  return isSilent || pid === process.pid || (host === hostname() && !isAlive(pid));
};

/** Takes dead workers off the list and answers the living ones. Our own number, if it is there, is of one before us. */
async function listLiving(now: Date, isBeforeUs: boolean): Promise<Beat[]> {
  const beats = await listBeats(system);
  const isGone = (beat: Beat) =>
    isDead(beat, now) && (isBeforeUs || beat.id !== idOf(hostname(), process.pid));
  await forgetBeats(
    system,
    beats.filter(isGone).map((beat) => beat.id),
  );
  return beats.filter((beat) => !isGone(beat));
}

/** Takes dead workers off the list. True when no other one is alive, so that all work begun earlier is lost work. */
export async function isOnlyWorker({ clock }: Pick<Ports, 'clock'>): Promise<boolean> {
  return (await listLiving(clock.now(), true)).length === 0;
}

/** Takes dead workers off the list and answers which jobs the living ones, ourselves included, are at. */
export async function listJobsAtWork({ clock }: Pick<Ports, 'clock'>): Promise<ReadonlySet<string>> {
  return new Set((await listLiving(clock.now(), false)).flatMap((beat) => beat.jobs));
}

/**
 * Gives a sign of life now and every 10 seconds, with what we are at. `onSteady` runs after each one once a minute of
 * them has gone well: before that, the silence of others may be that of a database that was away. The answer stops it
 * and signs off.
 */
export async function startBeat(
  { clock, log }: Pick<Ports, 'clock' | 'log'>,
  version: string,
  atWork: Pick<AtWork, 'jobs'>,
  onSteady: () => Promise<void>,
): Promise<() => Promise<void>> {
  const id = idOf(hostname(), process.pid);
  let steadySince = clock.now();
  const beat = () => recordBeat(system, { id, version, at: clock.now(), jobs: atWork.jobs() });
  await beat();
  const again = async () => {
    await beat();
    if (clock.now().getTime() - steadySince.getTime() > DEAD_AFTER_MS) await onSteady();
  };
  const timer = setInterval(() => {
    again().catch((error: unknown) => {
      steadySince = clock.now();
      log.warn({ err: error }, 'no sign of life could be given');
    });
  }, BEAT_EVERY_MS);
  return async () => {
    clearInterval(timer);
    await forgetBeats(system, [id]);
  };
}
