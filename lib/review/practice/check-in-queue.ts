import { openDB, type IDBPDatabase } from 'idb';
import * as z from 'zod';
import { checkInSchema } from '@/lib/domain/drills/practice';

const waitingSchema = z.object({
  id: z.uuid(),
  /** Who wrote it: another person on the same phone neither sees nor sends it. */
  ownerId: z.string(),
  assignmentId: z.uuid(),
  said: checkInSchema,
  /** The site's sentence, once it refused it. */
  refusal: z.string().nullable(),
});
/** A check-in that the site has not taken yet. */
export type WaitingCheckIn = z.infer<typeof waitingSchema>;

/** What became of one sending: taken, refused for good with a sentence, or to be tried again later. */
export type SendOutcome = { is: 'taken' } | { is: 'refused'; message: string } | { is: 'later' };
export type SendCheckIn = (one: WaitingCheckIn) => Promise<SendOutcome>;

const STORE = 'check-ins';
const REFUSED_FOR_GOOD = new Set([400, 403, 404, 409, 413]);

/** Sends to the site's own address. No network, a tired server and a lapsed session all mean: later. */
export const sendCheckIn: SendCheckIn = async ({ id, assignmentId, said }) => {
  if (!navigator.onLine) return { is: 'later' };
  const response = await fetch('/api/practice/check-ins', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ id, assignmentId, said }),
  }).catch(() => null);
  if (response?.ok) return { is: 'taken' };
  if (!response || !REFUSED_FOR_GOOD.has(response.status)) return { is: 'later' };
  const body = z.object({ message: z.string() }).safeParse(await response.json().catch(() => null));
  return { is: 'refused', message: body.data?.message ?? 'The site did not take this.' };
};

export interface CheckInQueue {
  /** Keeps one on this device; resolves when it lies there. Throws where the browser keeps nothing. */
  add(one: Omit<WaitingCheckIn, 'refusal'>): Promise<void>;
  /** What waits, of this owner. */
  list(ownerId: string): Promise<WaitingCheckIn[]>;
  /** Sends what waits, one after the other, and answers what is left. Two calls at once send each one once. */
  flush(ownerId: string): Promise<WaitingCheckIn[]>;
  drop(id: string): Promise<void>;
}

/** The queue of this device. */
export const createCheckInQueue = (
  send: SendCheckIn = sendCheckIn,
  name = 'cagepost-practice',
): CheckInQueue => {
  let opening: Promise<IDBPDatabase> | null = null;
  const database = () =>
    (opening ??= openDB(name, 1, {
      upgrade: (db) => {
        db.createObjectStore(STORE, { keyPath: 'id' });
      },
    }));
  const list = async (ownerId: string): Promise<WaitingCheckIn[]> =>
    ((await (await database()).getAll(STORE)) as unknown[]).flatMap((raw) => {
      const one = waitingSchema.safeParse(raw);
      return one.success && one.data.ownerId === ownerId ? [one.data] : [];
    });
  const drop = async (id: string) => (await database()).delete(STORE, id);
  const sendAll = async (ownerId: string) => {
    for (const one of await list(ownerId)) {
      if (one.refusal !== null) continue;
      const outcome = await send(one);
      if (outcome.is === 'taken') await drop(one.id);
      if (outcome.is === 'refused') await (await database()).put(STORE, { ...one, refusal: outcome.message });
      if (outcome.is === 'later') break;
    }
    return list(ownerId);
  };
  return {
    add: async (one) => void (await (await database()).put(STORE, { ...one, refusal: null })),
    list,
    drop,
    // Other tabs of the phone send too; the site knows the ids, but a lock spares the second sending.
    flush: (ownerId) => navigator.locks.request(name, () => sendAll(ownerId)),
  };
};
