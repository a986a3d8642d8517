import { v7 as uuid } from 'uuid';
import { SHOWN_ACTION, shownSchema, type Shown } from '@/lib/domain/people/shown';
import type { System, Viewer } from '@/lib/domain/people/viewer';
import type { AuditAction } from '@/lib/domain/shared/audit-words';
import type { PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

const HOUR = 3_600_000;

/** What is written down of a change: an action like `lesson.returned`, its subject like `lesson:<id>`, ids only, no content. */
export interface AuditFacts {
  action: AuditAction;
  subject: string;
  data?: Record<string, string | number | boolean | null>;
}

/** Appends one line to the audit of the viewer's program, in the transaction of what it tells about. */
export async function writeAudit(viewer: Viewer, tx: Tx, facts: AuditFacts): Promise<void> {
  await db(tx).auditEntry.create({
    data: {
      id: uuid(),
      programId: viewer.programId,
      actorId: viewer.personId,
      action: facts.action,
      subject: facts.subject,
      data: facts.data ?? {},
    },
  });
}

/** Notes that something of a player was shown to the viewer: once an hour for each thing is enough. */
export async function noteShown(
  viewer: Viewer,
  shown: { playerId: PersonId; what: Shown; id: string },
  at: Date,
): Promise<void> {
  const mine = {
    programId: viewer.programId,
    actorId: viewer.personId,
    action: SHOWN_ACTION,
    subject: `person:${shown.playerId}`,
  };
  const data = { what: shown.what, id: shown.id };
  const since = new Date(at.getTime() - HOUR);
  const known = await db().auditEntry.findMany({
    where: { ...mine, at: { gt: since } },
    select: { data: true },
    orderBy: { at: 'desc' },
    take: 200,
  });
  if (known.some((one) => shownSchema.safeParse(one.data).data?.id === shown.id)) return;
  await db().auditEntry.create({ data: { id: uuid(), ...mine, data, at } });
}

/** The same for what the program does by itself (the worker, the sign-in). */
export async function writeSystemAudit(
  _system: System,
  tx: Tx | undefined,
  programId: ProgramId,
  facts: AuditFacts,
): Promise<void> {
  await db(tx).auditEntry.create({
    data: { id: uuid(), programId, actorId: null, ...facts, data: facts.data ?? {} },
  });
}
