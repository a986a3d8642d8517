import { readProgram } from '@/lib/data/program.read';
import type { Subject } from '@/lib/data/subjects.read';
import { listLeadsToTell } from '@/lib/data/subjects.write';
import type { Tx } from '@/lib/data/transaction';
import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import type { NoticeBody } from '@/lib/domain/notices/notice';
import { afterQuietHours } from '@/lib/domain/notices/quiet-hours';
import type { Viewer } from '@/lib/domain/people/viewer';
import { tell } from './tell';

/**
 * Tells everybody whom the erasure of a person concerns: the person, the guardians of a minor, and the leads of the
 * program. A minor's own notice waits for the morning.
 */
export async function tellOfErasure(
  viewer: Viewer,
  tx: Tx,
  subject: Subject,
  now: Date,
  body: (program: ProgramFacts) => NoticeBody,
): Promise<void> {
  const program = await readProgram(viewer, tx);
  const waking = afterQuietHours(now, subject.timeZone ?? program.timeZone);
  const people = [
    { ...subject, at: subject.isMinor ? waking : now },
    ...(subject.isMinor ? subject.guardians : []).map((one) => ({ ...one, at: now })),
    ...(await listLeadsToTell(viewer, tx)).map((one) => ({ ...one, at: now })),
  ];
  await tell(viewer, tx, body(program), {
    programId: viewer.programId,
    playerId: subject.roles.includes('player') ? subject.personId : null,
    to: people.flatMap(({ personId, email, at }) => (email ? [{ personId, email, at }] : [])),
    now,
  });
}
