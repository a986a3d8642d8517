import { hostname } from 'node:os';
import { asSystem } from '@/lib/auth/system';
import { type Beat, forgetBeats, listBeats, recordBeat } from '@/lib/data/health.system';
import type { Ports } from '@/lib/workflows/ports';

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

/** Takes dead workers off the list. True when no other one is alive, so that all work begun earlier is lost work. */
export async function isOnlyWorker({ clock }: Pick<Ports, 'clock'>): Promise<boolean> {
  const beats = await listBeats(system);
  const dead = beats.filter((beat) => isDead(beat, clock.now()));
  await forgetBeats(
    system,
    dead.map((beat) => beat.id),
  );
  return dead.length === beats.length;
}

/** Gives a sign of life now and every 10 seconds. The answer stops it and signs off. */
export async function startBeat(
  { clock, log }: Pick<Ports, 'clock' | 'log'>,
  version: string,
): Promise<() => Promise<void>> {
  const id = idOf(hostname(), process.pid);
  const beat = () => recordBeat(system, { id, version, at: clock.now() });
  await beat();
  const timer = setInterval(() => {
    beat().catch((error: unknown) => log.warn({ err: error }, 'no sign of life could be given'));
  }, BEAT_EVERY_MS);
  return async () => {
    clearInterval(timer);
    await forgetBeats(system, [id]);
  };
}
