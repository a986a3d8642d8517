import Stripe from 'stripe';
import type { CardNews } from '@/lib/domain/billing/card';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Cards } from '@/lib/workflows/ports';
import { fromWire, toWire } from './card-amounts';

export interface CardSettings {
  secretKey: string;
  webhookSecret: string;
  /** Another address of the service, for tests. */
  host?: { protocol: 'http' | 'https'; host: string; port: number };
}

/** A message is refused when it was signed longer ago than this (the service's own advice). */
const TOLERANCE_S = 300;

/** The Cards port over Stripe Checkout. */
export function createCards({ secretKey, webhookSecret, host }: CardSettings): Cards {
  const stripe = new Stripe(secretKey, {
    ...host,
    maxNetworkRetries: 2,
    timeout: 15_000,
    telemetry: false,
    appInfo: { name: 'Cagepost' },
  });
  return {
    async open(payment) {
      const amount = toWire(payment.amountMinor, payment.currency);
      try {
        const session = await stripe.checkout.sessions.create(
          {
            mode: 'payment',
            client_reference_id: payment.id,
            line_items: [
              {
                quantity: 1,
                price_data: {
                  currency: payment.currency.toLowerCase(),
                  unit_amount: amount,
                  product_data: { name: payment.label },
                },
              },
            ],
            ...(payment.email && { customer_email: payment.email }),
            success_url: payment.backTo,
            cancel_url: payment.backTo,
          },
          // The same payment asked for twice is one payment there too.
          { idempotencyKey: payment.id },
        );
        if (!session.url) throw new Error('the session came without an address');
        return { sessionId: session.id, url: session.url };
      } catch (cause) {
        throw new CagepostError(
          'unavailable',
          'The card page cannot be opened right now. Nothing was taken; try again, or pay as the program says.',
          { paymentId: payment.id },
          { cause },
        );
      }
    },
    read(payload, signature) {
      const refused = (cause?: unknown) =>
        new CagepostError('invalid', 'That message was not signed by the payment service.', {}, { cause });
      if (!signature) throw refused();
      let event: Stripe.Event;
      try {
        event = stripe.webhooks.constructEvent(payload, signature, webhookSecret, TOLERANCE_S);
      } catch (cause) {
        throw refused(cause);
      }
      return { id: event.id, type: event.type, news: newsOf(event) };
    },
  };
}

function newsOf(event: Stripe.Event): CardNews | null {
  switch (event.type) {
    case 'checkout.session.completed':
    case 'checkout.session.async_payment_succeeded': {
      const session = event.data.object;
      const { client_reference_id: paymentId, amount_total: total, currency } = session;
      // Completed and not paid: a slow way to pay was chosen; another message follows.
      if (session.payment_status !== 'paid' || !paymentId || total === null || !currency) return null;
      return { kind: 'paid', paymentId, sessionId: session.id, ...fromWire(total, currency) };
    }
    case 'checkout.session.expired':
    case 'checkout.session.async_payment_failed': {
      const { id: sessionId, client_reference_id: paymentId } = event.data.object;
      const kind = event.type === 'checkout.session.expired' ? 'expired' : 'failed';
      return paymentId ? { kind, paymentId, sessionId } : null;
    }
    default:
      return null;
  }
}
