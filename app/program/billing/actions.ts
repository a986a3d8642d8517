'use server';

import { revalidatePath } from 'next/cache';
import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { PAY_METHODS } from '@/lib/domain/billing/methods';
import {
  anId,
  type LedgerEntryId,
  type LessonId,
  type PackId,
  type PersonId,
  type PriceId,
} from '@/lib/domain/shared/ids';
import { giveBackPackLesson } from '@/lib/workflows/give-back-pack-lesson';
import { recordPackEntry } from '@/lib/workflows/record-pack-entry';
import { refundPayer } from '@/lib/workflows/refund-payer';
import { retirePrice } from '@/lib/workflows/retire-price';
import { savePrice } from '@/lib/workflows/save-price';
import { sellPack } from '@/lib/workflows/sell-pack';
import { setMoneyPolicy } from '@/lib/workflows/set-money-policy';

const PAGE = '/program/billing';
const reason = z.string().max(500, 'Keep the reason under 500 characters.');
const amountMinor = z.int('Write the amount with at most the decimals of the currency.');
const method = z.enum(PAY_METHODS).nullable();
const id = anId<LedgerEntryId>();

export const recordPackEntryAction = callAction(
  'ledger.write',
  z.object({
    id,
    packId: anId<PackId>(),
    kind: z.enum(['payment', 'waiver', 'refund', 'correction']),
    amountMinor,
    method,
    reason,
  }),
  async (viewer, input) => {
    await recordPackEntry(ports, viewer, input);
    revalidatePath(PAGE);
  },
);

export const refundPayerAction = callAction(
  'ledger.write',
  z.object({ id, payerId: anId<PersonId>(), amountMinor, method, reason }),
  async (viewer, input) => {
    await refundPayer(ports, viewer, input);
    revalidatePath(PAGE);
  },
);

export const giveBackPackLessonAction = callAction(
  'ledger.write',
  z.object({ id, lessonId: anId<LessonId>(), reason }),
  async (viewer, input) => {
    await giveBackPackLesson(ports, viewer, input);
    revalidatePath(`/lessons/${input.lessonId}`);
  },
);

export const sellPackAction = callAction(
  'ledger.write',
  z.object({ id: anId<PackId>(), payerId: anId<PersonId>(), priceId: anId<PriceId>() }),
  async (viewer, input) => {
    await sellPack(ports, viewer, input);
    revalidatePath(PAGE);
  },
);

export const savePriceAction = callAction(
  'people.change',
  z.object({
    seriesId: anId<string>(),
    kind: z.enum(['lesson', 'pack']),
    label: z.string().trim().min(1, 'Give the price a name.').max(60, 'Keep the name under 60 characters.'),
    lessons: z.int('Write the lessons as a whole number.'),
    validDays: z.int('Write the days as a whole number.').nullable(),
    amountMinor,
  }),
  async (viewer, input) => {
    await savePrice(ports, viewer, input);
    revalidatePath(PAGE);
  },
);

export const retirePriceAction = callAction(
  'people.change',
  z.object({ seriesId: anId<string>() }),
  async (viewer, { seriesId }) => {
    await retirePrice(ports, viewer, seriesId);
    revalidatePath(PAGE);
  },
);

export const setMoneyPolicyAction = callAction(
  'people.change',
  z.object({
    dueDays: z.int('Write the days as a whole number.').min(0).max(365, 'At most 365 days.'),
    keptPercent: z.int('Write whole per cent.').min(0).max(100, 'At most 100 per cent.'),
    terms: z.string().max(2000, 'Keep it under 2000 characters.'),
  }),
  async (viewer, input) => {
    await setMoneyPolicy(viewer, input);
    revalidatePath(PAGE);
  },
);
