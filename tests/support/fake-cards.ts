import { v7 as uuid } from 'uuid';
import type { CardNews } from '@/lib/domain/billing/card';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Cards } from '@/lib/workflows/ports';

type News = {
  kind: CardNews['kind'];
  paymentId: string;
  amountMinor?: number;
  currency?: string;
  id?: string;
};

/** A payment service that knows nothing of signatures beyond the word "signed"; its real one is in tests/platform/cards. */
export function fakeCards() {
  const opened: Parameters<Cards['open']>[0][] = [];
  const cards: Cards = {
    open: async (payment) => {
      opened.push(payment);
      return { sessionId: `cs_${payment.id}`, url: `https://pay.example.org/${payment.id}` };
    },
    read: (payload, signature) => {
      if (signature !== 'signed') throw new CagepostError('invalid', 'Not signed.');
      return JSON.parse(payload) as ReturnType<Cards['read']>;
    },
  };
  /** A message of the service, as it arrives. The same `id` makes it the same message. */
  const message = ({
    kind,
    paymentId,
    amountMinor = 4500,
    currency = 'USD',
    id = `evt_${uuid()}`,
  }: News) => ({
    payload: JSON.stringify({
      id,
      type: `checkout.session.${kind}`,
      news: { kind, paymentId, sessionId: `cs_${paymentId}`, amountMinor, currency },
    }),
    signature: 'signed',
  });
  return { cards, opened, message };
}
