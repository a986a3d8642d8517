import type { ActionReply } from '../../support/action-client';
import { later } from './waiting';

/** A command that the program said yes to. */
export interface Acknowledged {
  kind: Kind;
  /** Of the lesson, pack, entry, reply, card payment or clip that it made or moved. */
  id: string;
  facts: Readonly<Record<string, unknown>>;
}

export type Kind =
  'submit' | 'take' | 'return' | 'reply' | 'payment' | 'card' | 'pack' | 'pack-payment' | 'upload';

/** What one try came to: done, to be tried again with the same id, or refused for good. */
export type Outcome<T> = { ok: T } | { again: string } | { refused: string };

/** A story cannot go on, because something was refused. */
export class Refused extends Error {
  override name = 'Refused';
}

const ATTEMPT_MS = 10_000;
/** A program that does not come back within this is not merely restarting. */
const PATIENCE_MS = 120_000;

const inTime = <T>(work: Promise<T>): Promise<T> => {
  let timer: NodeJS.Timeout;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(new Error('no answer')), ATTEMPT_MS);
  });
  return Promise.race([work, late]).finally(() => clearTimeout(timer));
};

/** What was acknowledged, what was refused, and how often had to be tried again. */
export class Book {
  readonly acknowledged: Acknowledged[] = [];
  readonly refused: string[] = [];
  tries = 0;
  retries = 0;

  /** Tries with the same id until the program says yes, as the clients do after a cut connection. */
  async insist<T>(what: string, attempt: () => Promise<Outcome<T>>): Promise<T> {
    const begun = Date.now();
    for (let tried = 0; ; tried += 1) {
      this.tries += 1;
      const outcome = await inTime(attempt()).catch((error: unknown) => ({ again: String(error) }));
      if ('ok' in outcome) return outcome.ok;
      const isHopeless = 'again' in outcome && Date.now() - begun > PATIENCE_MS;
      if ('refused' in outcome || isHopeless) {
        const words = 'refused' in outcome ? outcome.refused : `never answered: ${outcome.again}`;
        this.refused.push(`${what}, try ${tried + 1}: ${words}`);
        throw new Refused(what);
      }
      this.retries += 1;
      await later(50 + Math.random() * 200);
    }
  }

  note(kind: Kind, id: string, facts: Record<string, unknown> = {}): void {
    this.acknowledged.push({ kind, id, facts });
  }
}

/** Faults after which people try again: nothing was decided. */
const PASSING = ['internal', 'unavailable', 'too-many'];

/** What a server action's reply means for its caller. */
export const outcomeOf = ({ status, answer }: ActionReply): Outcome<unknown> => {
  if (!answer)
    return status < 500 && status !== 200 ? { refused: `status ${status}` } : { again: `status ${status}` };
  if (answer.ok) return { ok: answer.value };
  return PASSING.includes(answer.fault)
    ? { again: answer.fault }
    : { refused: `${answer.fault}: ${answer.message}` };
};

/** The same for a route that answers JSON. */
export const outcomeOfRoute = async (response: Response): Promise<Outcome<Record<string, unknown>>> => {
  const body = (await response.json().catch(() => null)) as Record<string, unknown> | null;
  if (response.ok && body) return { ok: body };
  const fault = String(body?.fault ?? `status ${response.status}`);
  if (response.status >= 500 || response.status === 429 || !body) return { again: fault };
  return { refused: `${fault}: ${String(body.message)}` };
};
