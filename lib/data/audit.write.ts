import { v7 as uuid } from 'uuid';
import type { System, Viewer } from '@/lib/domain/people/viewer';
import type { ProgramId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';

/** What is written down of a change: an action like `lesson.returned`, its subject like `lesson:<id>`, ids only, no content. */
export interface AuditFacts {
  action: string;
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
