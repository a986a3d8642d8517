import type { MoneyPolicy } from '@/lib/domain/billing/policy';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import type { PackId, PersonId, PriceId } from '@/lib/domain/shared/ids';
import { db, type Tx } from './client';
import { peopleVisibleTo } from './visibility';

/** A pack as it is sold: what the price list said then, copied. */
export interface NewPack {
  id: PackId;
  payerId: PersonId;
  priceId: PriceId;
  label: string;
  lessons: number;
  amountMinor: number;
  currency: string;
  policy: MoneyPolicy;
  soldAt: Date;
  validUntil: Date;
}

/** Gives a payer of the program a pack, once for its id (then `false`). Leads only. */
export async function createPack(viewer: Viewer, tx: Tx, pack: NewPack): Promise<boolean> {
  if (!isLead(viewer)) throw notFound('pack');
  const payer = await db(tx).person.count({
    where: {
      AND: [
        { id: pack.payerId },
        { memberships: { some: { programId: viewer.programId, role: { in: ['player', 'guardian'] } } } },
        peopleVisibleTo(viewer),
      ],
    },
  });
  if (payer === 0) throw notFound('payer');
  const { count } = await db(tx).pack.createMany({
    data: { ...pack, programId: viewer.programId },
    skipDuplicates: true,
  });
  if (count === 1) return true;
  const known = await db(tx).pack.findUnique({
    where: { id: pack.id },
    select: { payerId: true, programId: true },
  });
  if (known?.payerId !== pack.payerId || known.programId !== viewer.programId) throw notFound('pack');
  return false;
}
