'use server';

import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { cardsOf } from '@/app/_server/cards';
import { siteOrigin } from '@/app/_server/mailer';
import { ports } from '@/app/_server/ports';
import { CagepostError } from '@/lib/domain/shared/errors';
import { anId, type CardPaymentId } from '@/lib/domain/shared/ids';
import { startCardPayment } from '@/lib/workflows/start-card-payment';

export const payByCardAction = callAction(
  'ledger.write',
  z.object({ id: anId<CardPaymentId>(), subject: z.string().max(120) }),
  async (viewer, input) => {
    const cards = cardsOf();
    if (!cards) {
      throw new CagepostError(
        'unsupported',
        'Cards are not taken here. Nothing was taken; pay as the program says.',
      );
    }
    const backTo = `${siteOrigin()}/billing`;
    return startCardPayment({ clock: ports.clock, cards, backTo }, viewer, input);
  },
);
