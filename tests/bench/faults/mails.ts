import type { Client } from 'pg';
import type { Taken } from '../../support/mail-server';

/** What the database had noted as sent at a moment. */
export interface Noted {
  at: number;
  ids: ReadonlySet<string>;
}

/** Which mails the database has noted as sent by now. */
export async function notedMails(
  query: Client['query'] | ((sql: string) => Promise<unknown>),
): Promise<Noted> {
  const { rows } = (await query(`SELECT id FROM "OutboxMail" WHERE "sentAt" IS NOT NULL`)) as {
    rows: { id: string }[];
  };
  return { at: Date.now(), ids: new Set(rows.map((row) => row.id)) };
}

/** From a kill until what was killed answered again. */
export interface Crash {
  from: number;
  to: number;
}

const idOf = (messageId: string) => messageId.replace(/@.*$/, '');

/**
 * Mail leaves at least once: between the mail server's yes and our note of it lies a moment in which a crash makes the
 * same message, with the same Message-ID, go again; no sender can close that gap. Such a repeat is told and not counted.
 * Counted as doubled is a message that went again without a crash in between, or after it had been noted as sent.
 */
export function judgeMails(taken: readonly Taken[], noted: readonly Noted[], crashes: readonly Crash[]) {
  const times = new Map<string, number[]>();
  for (const { id, at } of taken) times.set(id, [...(times.get(id) ?? []), at]);
  const doubled: string[] = [];
  let repeated = 0;
  for (const [id, all] of times) {
    for (const [index, at] of all.entries()) {
      const before = all[index - 1];
      if (before === undefined) continue;
      const isNoted = noted.some((one) => one.at < at && one.ids.has(idOf(id)));
      const isCrash = crashes.some(({ from, to }) => before <= to && at >= from);
      if (isNoted || !isCrash) doubled.push(`mail ${id} went again ${at - before} ms later`);
      else repeated += 1;
    }
  }
  return { doubled, repeated, ids: new Set([...times.keys()].map(idOf)) };
}
