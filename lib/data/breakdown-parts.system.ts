import { dayIn, type Day } from '@/lib/domain/people/age';
import { staffContact, type StaffContact } from '@/lib/domain/people/safeguarding';
import type { System } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { BreakdownId, PersonId, RemarkId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { consentOf, lessonConsents } from './lesson-consents';
import { toBirthDate } from './select';

// As with clips: the bytes of a part may come to their end without anybody there. The claim was the coach's own.

export interface StoredFacts {
  senderId: PersonId;
  storageKey: string;
  sizeBytes: number;
  md5: string;
  at: Date;
}

/**
 * Notes that a part is stored; a repeat changes nothing, and of two the bytes that lie there last count. Throws `not-found` when the breakdown was removed meanwhile
 * or is another coach's. Answers whether adults may write to the player at this moment: if not, the part has to go.
 */
export async function storePart(
  _system: System,
  tx: Tx,
  part: { breakdownId: BreakdownId; segmentId: string; number: number },
  facts: StoredFacts,
): Promise<StaffContact> {
  await db(tx).$queryRaw`SELECT 1 FROM "Breakdown" WHERE id = ${part.breakdownId}::uuid FOR UPDATE`;
  const row = await db(tx).breakdown.findFirst({
    where: { id: part.breakdownId, byId: facts.senderId, removedAt: null },
    select: {
      lesson: {
        select: {
          program: { select: { id: true, timeZone: true } },
          thread: {
            select: {
              player: {
                select: {
                  birthDate: true,
                  guardians: { select: { guardianId: true, verifiedAt: true, pausedAt: true } },
                  consents: lessonConsents(null),
                },
              },
            },
          },
        },
      },
    },
  });
  if (!row) throw notFound('breakdown');
  const { player } = row.lesson.thread;
  const consents = player.consents.filter((one) => one.programId === row.lesson.program.id);
  const contact = staffContact(
    { birthDate: toBirthDate(player.birthDate) as Day | null },
    player.guardians.map((one) => ({
      isVerified: one.verifiedAt !== null,
      isPaused: one.pausedAt !== null,
      consent: consentOf(consents, one.guardianId),
    })),
    dayIn(row.lesson.program.timeZone, facts.at),
  );
  if (contact !== 'open') return contact;
  const { sizeBytes, md5, storageKey, at } = facts;
  const key = { breakdownId: part.breakdownId, segmentId: part.segmentId, number: part.number };
  const { count } = await db(tx).breakdownPart.updateMany({
    where: { ...key, OR: [{ storageKey: null }, { storageKey, md5: { not: md5 } }] },
    data: { sizeBytes, md5, storageKey, storedAt: at },
  });
  if (count === 0 && (await db(tx).breakdownPart.count({ where: key })) === 0) throw notFound('breakdown');
  return contact;
}

/** Notes that the voice of a remark is stored, with what its head tells; a repeat changes nothing. */
export async function storeRemark(
  _system: System,
  tx: Tx,
  id: RemarkId,
  facts: { senderId: PersonId; storageKey: string; voiceType: string; durationMs: number },
): Promise<void> {
  const { senderId, ...known } = facts;
  const { count } = await db(tx).remark.updateMany({
    where: { id, ownerId: senderId, OR: [{ storageKey: null }, { storageKey: known.storageKey }] },
    data: known,
  });
  if (count === 0) throw notFound('remark');
}
