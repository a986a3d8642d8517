import { dayOfDate, type Day } from '@/lib/domain/people/age';
import { isLead, type Role, type Viewer } from '@/lib/domain/people/viewer';
import { maySpeakFor, type ErasureFacts } from '@/lib/domain/privacy/erasure';
import { PERSONAL_EXPORT_STATES, type PersonalExportFacts } from '@/lib/domain/privacy/export';
import type { PersonId } from '@/lib/domain/shared/ids';
import { db, prisma, type Tx } from './client';
import { isHeldBack } from './held-back';

/** A person for whom the viewer may speak: take a copy of everything about them, or have it erased. */
export interface Subject {
  personId: PersonId;
  name: string;
  email: string | null;
  timeZone: string | null;
  birthDate: Day | null;
  roles: Role[];
  isSelf: boolean;
  isMinor: boolean;
  /** How many other programs know them: there everything stays. */
  otherPrograms: number;
  /** Verified guardians. */
  guardians: { personId: PersonId; name: string; email: string | null }[];
  /** Children of whom nobody else is a verified guardian. */
  soleWards: string[];
}

/**
 * A person of the viewer's program for whom the viewer may speak; null for anybody else, absent or not: see
 * `maySpeakFor`.
 */
export async function readSubject(viewer: Viewer, personId: PersonId, tx?: Tx): Promise<Subject | null> {
  const row = await db(tx).person.findFirst({
    where: { id: personId, erasedAt: null, memberships: { some: { programId: viewer.programId } } },
    select: {
      name: true,
      email: true,
      timeZone: true,
      birthDate: true,
      memberships: { select: { programId: true, role: true } },
      guardians: {
        where: { verifiedAt: { not: null } },
        select: { guardian: { select: { id: true, name: true, email: true } } },
      },
      wards: {
        where: { verifiedAt: { not: null } },
        select: {
          player: {
            select: {
              name: true,
              guardians: { where: { verifiedAt: { not: null } }, select: { guardianId: true } },
            },
          },
        },
      },
    },
  });
  if (!row || viewer.roles.length === 0) return null;
  const roles = row.memberships.filter((one) => one.programId === viewer.programId).map((one) => one.role);
  const isSelf = personId === viewer.personId;
  const birthDate = row.birthDate && dayOfDate(row.birthDate);
  const asking = {
    isSelf,
    isGuardian: viewer.wards.includes(personId),
    isLead: isLead(viewer),
    isPlayer: roles.includes('player'),
    isMinor: birthDate === null || birthDate > viewer.adultsBornUntil,
  };
  if (!maySpeakFor(asking)) return null;
  const elsewhere = row.memberships.filter((one) => one.programId !== viewer.programId);
  return {
    personId,
    name: row.name,
    email: row.email,
    timeZone: row.timeZone,
    birthDate,
    roles,
    isSelf,
    isMinor: asking.isPlayer && asking.isMinor,
    otherPrograms: new Set(elsewhere.map((one) => one.programId)).size,
    guardians: row.guardians.map(({ guardian }) => ({ ...guardian, personId: guardian.id as PersonId })),
    soleWards: row.wards
      .filter(({ player }) => player.guardians.every((one) => one.guardianId === personId))
      .map(({ player }) => player.name),
  };
}

/** A request for erasure as the page shows it. */
export interface ErasureLine extends ErasureFacts {
  id: string;
  at: Date;
  byName: string;
  /** A legal hold needs the person as they are: it waits for its end. */
  isHeldBack: boolean;
}

/** The latest request to erase a person, for whoever may speak for them; null without one. */
export async function readErasure(viewer: Viewer, personId: PersonId): Promise<ErasureLine | null> {
  if (!(await readSubject(viewer, personId))) return null;
  const row = await prisma.erasureRequest.findFirst({
    where: { programId: viewer.programId, personId },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    select: { id: true, at: true, byId: true, dueAt: true, cancelledAt: true, doneAt: true },
  });
  if (!row) return null;
  const { byId, ...facts } = row;
  const by = await prisma.person.findUnique({ where: { id: byId }, select: { name: true } });
  return {
    ...facts,
    byName: by?.name ?? 'Somebody who left',
    isHeldBack: await isHeldBack(undefined, personId),
  };
}

const exportFacts = {
  id: true,
  state: true,
  parts: true,
  sizeBytes: true,
  failReason: true,
  at: true,
  expiresAt: true,
} as const;

/**
 * The copies of everything about a person that the viewer asked for, newest first. Only whoever asked for one sees it:
 * another guardian asks for their own.
 */
export async function listPersonalExports(
  viewer: Viewer,
  personId: PersonId,
): Promise<PersonalExportFacts[]> {
  if (!(await readSubject(viewer, personId))) return [];
  const rows = await prisma.personalExport.findMany({
    where: { programId: viewer.programId, personId, byId: viewer.personId },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
    take: 5,
    select: exportFacts,
  });
  return rows.map(({ state, sizeBytes, ...row }) => ({
    ...row,
    sizeBytes: Number(sizeBytes),
    state: PERSONAL_EXPORT_STATES.find((one) => one === state) ?? 'failed',
  }));
}

/**
 * A copy that is ready and has not expired, for whoever asked for it while they still may speak for the person; null for
 * anybody else.
 */
export async function readReadyExport(
  viewer: Viewer,
  id: string,
  now: Date,
): Promise<{ id: string; personId: PersonId; personName: string; parts: number } | null> {
  const row = await prisma.personalExport.findFirst({
    where: {
      ...{ id, programId: viewer.programId, byId: viewer.personId, state: 'ready' },
      expiresAt: { gt: now },
    },
    select: { id: true, personId: true, parts: true },
  });
  const subject = row && (await readSubject(viewer, row.personId as PersonId));
  return row && subject ? { ...row, personId: subject.personId, personName: subject.name } : null;
}
