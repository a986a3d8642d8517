import { v7 as uuid } from 'uuid';
import type { System, Viewer } from '@/lib/domain/people/viewer';
import type { Mail } from '@/lib/domain/notices/mail';
import { db, type Tx } from './client';

/** Puts a mail into the outbox, in the transaction of its cause. It leaves at `notBefore` or soon after, at least once. */
export async function queueMail(_who: Viewer | System, tx: Tx, mail: Mail): Promise<void> {
  await db(tx).outboxMail.create({
    data: {
      id: mail.id ?? uuid(),
      kind: mail.kind,
      toEmail: mail.to,
      personId: mail.personId ?? null,
      programId: mail.programId ?? null,
      data: mail.data,
      notBefore: mail.notBefore,
    },
  });
}
