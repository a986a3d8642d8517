import { createCards } from '@/lib/platform/cards/stripe-cards';
import { env } from '@/lib/platform/env';
import type { Cards } from '@/lib/workflows/ports';

/** The payment service, or null where its keys are not set: then everything is paid as the program says. */
export const cardsOf = (): Cards | null => {
  const { STRIPE_SECRET_KEY: secretKey, STRIPE_WEBHOOK_SECRET: webhookSecret } = env;
  return secretKey && webhookSecret ? createCards({ secretKey, webhookSecret }) : null;
};
