import { answer } from '@/app/_server/api';
import { cardsOf } from '@/app/_server/cards';
import { ports } from '@/app/_server/ports';
import { asSystem } from '@/lib/auth/system';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import { settleCardPayment } from '@/lib/workflows/settle-card-payment';

const MOST_CHARACTERS = 1_000_000;

/** Where the payment service tells what came of a card payment. Its signature is the key; absent where cards are off. */
export async function POST(request: Request): Promise<Response> {
  return answer('cards', async () => {
    const cards = cardsOf();
    if (!cards) throw notFound('page');
    // As it was signed: not parsed before the signature is checked.
    const payload = await request.text();
    if (payload.length > MOST_CHARACTERS) throw new CagepostError('too-large', 'That message is too long.');
    const signature = request.headers.get('stripe-signature');
    const outcome = await settleCardPayment({ ...ports, cards }, asSystem('cards'), { payload, signature });
    return { outcome };
  });
}
