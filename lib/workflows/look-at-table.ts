import { readTableStanding } from '@/lib/data/invitation-table.read';
import { readAccount } from '@/lib/data/people.read';
import type { Tx } from '@/lib/data/transaction';
import { dayIn } from '@/lib/domain/people/age';
import { judgeRows, type JudgedRow } from '@/lib/domain/people/invitation-rows';
import { readTable } from '@/lib/domain/people/invitation-table';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { Ports } from './ports';

/** A table of people with what becomes of each row, and the columns that were not read. */
export interface LookedAt {
  rows: JudgedRow[];
  ignored: string[];
}

/**
 * Reads a table of people to invite and says of each row what would become of it. Changes nothing. For leads. Refused
 * in one sentence when it is no such table.
 */
export async function lookAtTable(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  text: string,
  tx?: Tx,
): Promise<LookedAt> {
  if (!isLead(viewer)) throw notFound('page');
  const now = clock.now();
  const table = readTable(text);
  if (!table.ok) throw new CagepostError('invalid', table.sentence);
  const { program } = await readAccount(viewer);
  const standing = await readTableStanding(
    viewer,
    {
      emails: table.rows.map((row) => row.email.normalize('NFKC').toLowerCase()),
      childNames: table.rows.flatMap((row) => (row.childName === '' ? [] : [row.childName])),
      now,
    },
    tx,
  );
  return {
    rows: judgeRows(table.rows, standing, dayIn(program.timeZone, now)),
    ignored: table.ignored,
  };
}
