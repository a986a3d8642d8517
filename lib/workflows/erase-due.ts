import { writeSystemAudit } from '@/lib/data/audit.write';
import { eraseRequested, listDueErasures, type DueErasure, type Erased } from '@/lib/data/erasure.system';
import { queueMail } from '@/lib/data/outbox.write';
import { noteNight } from '@/lib/data/retention.system';
import { transaction } from '@/lib/data/transaction';
import { pseudonymFrom } from '@/lib/domain/privacy/erasure';
import type { Day } from '@/lib/domain/people/age';
import type { System } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

const PATIENCE_MS = 120_000;

/**
 * Erases everybody whose time has come: rows, audit line, journal and mails in one transaction each. The files go by
 * `removeLetGo`. A legal hold, or a program that would be left without a lead, keeps a request waiting. Answers how
 * many were erased.
 */
export async function eraseDue(
  ports: Pick<Ports, 'clock' | 'ids' | 'log' | 'queue'>,
  system: System,
  day: Day,
): Promise<number> {
  const { clock, log } = ports;
  let erased = 0;
  for (const request of await listDueErasures(system, clock.now())) {
    // One that cannot be done does not hold up the others.
    const outcome = await erase(ports, system, request, day).catch((error: unknown) => {
      log.error({ requestId: request.id, err: error }, 'somebody could not be erased; tried again tomorrow');
      return null;
    });
    if (outcome?.state === 'done') erased += 1;
    else if (outcome) log.warn({ requestId: request.id, why: outcome.state }, 'an erasure waits');
  }
  return erased;
}

const erase = (
  { clock, ids, queue }: Pick<Ports, 'clock' | 'ids' | 'queue'>,
  system: System,
  { id, programId, personId }: DueErasure,
  day: Day,
): Promise<Erased> =>
  transaction(
    system,
    async (tx) => {
      const now = clock.now();
      // The token's letters are chance: no id that anybody has seen goes into a stand-in.
      const pseudonym = pseudonymFrom(new TextEncoder().encode(ids.token().slice(-20)));
      const outcome = await eraseRequested(system, tx, id, { pseudonym, now });
      if (outcome.state !== 'done') return outcome;
      await writeSystemAudit(system, tx, programId, {
        action: 'person.erased',
        subject: `person:${personId}`,
        data: { request: id },
      });
      await noteNight(system, tx, { programId, day }, { erased: 1 }, now);
      const data = { programName: outcome.programName, path: '/' };
      for (const to of outcome.emails)
        await queueMail(system, tx, { kind: 'erased', data, to, notBefore: now });
      await queue.drainOutbox(tx);
      return outcome;
    },
    PATIENCE_MS,
  );
