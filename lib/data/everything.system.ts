import { documentFactsSchema, documentFile } from '@/lib/domain/billing/documents';
import { dayOfDate } from '@/lib/domain/people/age';
import { SHOWN_ACTION, shownSchema } from '@/lib/domain/people/shown';
import type { System } from '@/lib/domain/people/viewer';
import type { Everything } from '@/lib/domain/privacy/everything';
import { db } from './client';
import { lessonInCopy } from './everything-select';
import { toEverythingLesson } from './everything-lesson';

const iso = (at: Date | null) => at?.toISOString() ?? null;
const AT_ONCE = 50;

/**
 * Everything that a program keeps about one of its people, as far as the person's own side may see it: nothing that a
 * coach has not given yet, nothing that others wrote about them in confidence. `isOwn` says that the person asked
 * themselves: then concerns that they raised are in it too.
 */
export async function gatherEverything(
  _system: System,
  { programId, personId, isOwn }: { programId: string; personId: string; isOwn: boolean },
  now: Date,
): Promise<Everything> {
  const mine = { programId, playerId: personId };
  const beside = { select: { name: true } };
  const byTime = { at: 'asc' } as const;
  const person = await db().person.findUniqueOrThrow({
    where: { id: personId },
    include: {
      memberships: { where: { programId }, select: { role: true } },
      guardians: { include: { guardian: beside } },
      wards: {
        where: { player: { memberships: { some: { programId, role: 'player' } } } },
        include: { player: beside },
      },
      noticeChoices: true,
      practiceSafety: true,
    },
  });
  const program = await db().program.findUniqueOrThrow({
    where: { id: programId },
    select: { name: true, timeZone: true },
  });
  const [
    consents,
    shown,
    ledger,
    documents,
    notices,
    targets,
    checks,
    remarks,
    drillClips,
    written,
    coached,
    concerns,
  ] = await Promise.all([
    db().consent.findMany({
      where: { programId, OR: [{ playerId: personId }, { byId: personId }] },
      orderBy: { givenAt: 'asc' },
    }),
    db().auditEntry.findMany({
      where: { programId, subject: `person:${personId}`, action: SHOWN_ACTION },
      orderBy: byTime,
    }),
    db().ledgerEntry.findMany({
      where: { programId, OR: [{ payerId: personId }, { lesson: { thread: mine } }] },
      orderBy: byTime,
    }),
    db().billingDocument.findMany({
      where: { programId, OR: [{ payerId: personId }, { lesson: { thread: mine } }] },
      orderBy: byTime,
    }),
    db().notice.findMany({ where: { programId, personId }, orderBy: byTime }),
    db().measureTarget.findMany({ where: mine, orderBy: { setAt: 'asc' } }),
    db().clearance.findMany({ where: { programId, personId }, orderBy: { issuedOn: 'asc' } }),
    db().remark.findMany({
      where: { programId, ownerId: personId, retiredAt: null },
      orderBy: { createdAt: 'asc' },
    }),
    db().clip.findMany({
      where: { uploadedById: personId, removedAt: null, drill: { programId } },
      select: { id: true, shows: true, createdAt: true, drill: { select: { title: true } } },
      orderBy: { createdAt: 'asc' },
    }),
    db().reply.findMany({
      where: { authorId: personId, thread: { programId, playerId: { not: personId } } },
      select: { body: true, at: true },
      orderBy: byTime,
    }),
    db().lesson.findMany({
      where: { programId, coachId: personId },
      select: { number: true, submittedAt: true, returnedAt: true },
      orderBy: { submittedAt: 'asc' },
    }),
    isOwn
      ? db().concern.findMany({ where: { programId, raisedById: personId }, orderBy: byTime })
      : Promise.resolve([]),
  ]);
  const named = await db().person.findMany({
    where: { id: { in: [...consents.map((one) => one.byId), ...shown.flatMap((one) => one.actorId ?? [])] } },
    select: { id: true, name: true },
  });
  const names = new Map(named.map((one) => [one.id, one.name]));
  const nameOf = (id: string | null) => names.get(id ?? '') ?? 'Somebody who left';

  return {
    version: 1,
    madeAt: now.toISOString(),
    program,
    person: {
      id: person.id,
      name: person.name,
      birthDate: person.birthDate && dayOfDate(person.birthDate),
      email: person.email,
      bats: person.bats,
      timeZone: person.timeZone,
      since: person.createdAt.toISOString(),
      roles: person.memberships.map((one) => one.role),
      hasPassword: person.passwordHash !== null,
    },
    guardians: person.guardians.map(({ guardian, verifiedAt, pausedAt }) => ({
      ...{ name: guardian.name, verifiedAt: iso(verifiedAt), pausedAt: iso(pausedAt) },
    })),
    children: person.wards.map(({ player, verifiedAt, pausedAt }) => ({
      ...{ name: player.name, verifiedAt: iso(verifiedAt), pausedAt: iso(pausedAt) },
    })),
    lessons: await lessonsOf(mine),
    targets: targets.map(({ measure, low, high, setAt, endedAt }) => ({
      ...{ measure, low, high, setAt: setAt.toISOString(), endedAt: iso(endedAt) },
    })),
    consents: consents.map((one) => ({
      ...{ scope: one.scope, by: nameOf(one.byId), version: one.version, method: one.method },
      ...{ givenAt: one.givenAt.toISOString(), expiresAt: iso(one.expiresAt) },
      withdrawnAt: iso(one.withdrawnAt),
    })),
    practiceSafety: person.practiceSafety.map(({ version, adult, at }) => ({
      ...{ version, adult, at: at.toISOString() },
    })),
    shown: shown.flatMap(({ actorId, data, at }) => {
      const what = shownSchema.safeParse(data).data?.what;
      return what ? [{ by: nameOf(actorId), what, at: at.toISOString() }] : [];
    }),
    ledger: ledger.map(({ kind, amountMinor, currency, method, reason, at, dueAt }) => ({
      ...{ kind, amountMinor, currency, method, reason, at: at.toISOString(), dueAt: iso(dueAt) },
    })),
    documents: documents.map(({ id, kind, number, at, facts }) => ({
      ...{ id, kind, number, at: at.toISOString(), facts: documentFactsSchema.parse(facts) },
      file: `bills/${documentFile(kind, number)}`,
    })),
    notices: notices.map(({ kind, at, readAt }) => ({ kind, at: at.toISOString(), readAt: iso(readAt) })),
    mailChoices: person.noticeChoices.map(({ kind, mail }) => ({ kind, mail })),
    checks: checks.map(({ kind, issuedOn, expiresOn, revokedAt }) => ({
      ...{ kind, issuedOn: dayOfDate(issuedOn), expiresOn: dayOfDate(expiresOn) },
      revokedAt: iso(revokedAt),
    })),
    remarks: remarks.map(({ title, text, createdAt, storageKey }, at) => ({
      ...{ title, text, createdAt: createdAt.toISOString() },
      files: storageKey ? [{ file: `remarks/remark-${at + 1}.part`, key: storageKey }] : [],
    })),
    drillClips: drillClips.map(({ id, drill, shows, createdAt }) => ({
      ...{ id, drill: drill?.title ?? '', shows: shows ?? 'nobody', sentAt: createdAt.toISOString() },
      files: [],
    })),
    written: written.map(({ body, at }) => ({ body, at: at.toISOString() })),
    coached: coached.map(({ number, submittedAt, returnedAt }) => ({
      ...{ lessonNumber: number, sentAt: iso(submittedAt), returnedAt: iso(returnedAt) },
    })),
    leftOut: [],
    concerns: concerns.map(({ body, at }) => ({ body, at: at.toISOString() })),
  };
}

/** All lessons of a thread, some at a time: a sheet with its marks can be large. */
async function lessonsOf(thread: { programId: string; playerId: string }): Promise<Everything['lessons']> {
  const lessons: Everything['lessons'] = [];
  for (let skip = 0; ; skip += AT_ONCE) {
    const rows = await db().lesson.findMany({
      where: { thread },
      select: lessonInCopy,
      orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
      take: AT_ONCE,
      skip,
    });
    lessons.push(...rows.map(toEverythingLesson));
    if (rows.length < AT_ONCE) return lessons;
  }
}
