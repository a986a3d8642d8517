import { createDocument } from '@/lib/data/documents.write';
import type { Payer } from '@/lib/data/payers.read';
import type { Tx } from '@/lib/data/transaction';
import { documentName, type DocumentFacts, type DocumentKind } from '@/lib/domain/billing/documents';
import { cancellationWords, type MoneyPolicy } from '@/lib/domain/billing/policy';
import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import { afterQuietHours } from '@/lib/domain/notices/quiet-hours';
import type { Viewer } from '@/lib/domain/people/viewer';
import { tell } from './tell';

/** What a document says beyond who it is from and to. */
export interface Saying {
  entryId: string;
  kind: DocumentKind;
  label: string;
  amountMinor: number;
  currency: string;
  method?: string | null;
  reason?: string;
  dueAt?: Date | null;
  stillOwedMinor: number;
  policy: MoneyPolicy;
}

/** The frozen facts of a document with one line. */
export const factsOf = (
  program: Pick<ProgramFacts, 'name' | 'timeZone' | 'howToPay'>,
  payerName: string,
  saying: Saying,
): DocumentFacts => ({
  version: 1,
  programName: program.name,
  timeZone: program.timeZone,
  payerName,
  lines: [{ label: saying.label, amountMinor: saying.amountMinor }],
  totalMinor: saying.amountMinor,
  currency: saying.currency,
  method: saying.method ?? null,
  reason: saying.reason ?? '',
  dueAt: saying.dueAt?.toISOString() ?? null,
  stillOwedMinor: saying.stillOwedMinor,
  howToPay: program.howToPay,
  terms:
    saying.kind === 'invoice' ? [cancellationWords(saying.policy), saying.policy.terms].join(' ').trim() : '',
});

/**
 * Makes a numbered document and tells the payer by mail, with a link and no word about a player. A child without an
 * address is told by nobody here: the page shows it to the guardian.
 */
export async function issueDocument(
  viewer: Viewer,
  tx: Tx,
  about: { program: ProgramFacts; payer: Payer; now: Date; saying: Saying },
): Promise<void> {
  const { program, payer, now, saying } = about;
  const number = await createDocument(viewer, tx, {
    entryId: saying.entryId,
    kind: saying.kind,
    facts: factsOf(program, payer.name, saying),
    at: now,
  });
  if (!payer.email) return;
  const data = {
    programName: program.name,
    documentName: documentName(saying.kind, number),
    path: '/billing',
  };
  const at = payer.isMinor ? afterQuietHours(now, program.timeZone) : now;
  await tell(
    viewer,
    tx,
    { kind: 'document-ready', data },
    {
      programId: viewer.programId,
      playerId: null,
      to: [{ personId: payer.id, email: payer.email, at }],
      now,
    },
  );
}
