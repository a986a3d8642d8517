import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fromWire, toWire } from '@/lib/platform/cards/card-amounts';
import { createCards } from '@/lib/platform/cards/stripe-cards';
import { sessionEvent, sign, startPaymentService } from '../../support/payment-service';

const SECRET_KEY = 'sk_test_key';
const WEBHOOK_SECRET = 'whsec_test';
let service: Awaited<ReturnType<typeof startPaymentService>>;
beforeAll(async () => {
  service = await startPaymentService(SECRET_KEY);
});
afterAll(() => service.stop());

const cards = (secretKey = SECRET_KEY) =>
  createCards({ secretKey, webhookSecret: WEBHOOK_SECRET, host: service.host });
const payment = (over: object = {}) => ({
  id: '0190a000-0000-7000-8000-000000000001',
  amountMinor: 4500,
  currency: 'USD',
  label: 'One lesson, number 3',
  email: 'robin@example.org',
  backTo: 'https://lessons.example.org/billing',
  ...over,
});

describe('the card page', () => {
  test('is opened for the amount, in the service’s own words, with no word about a player', async () => {
    const { url, sessionId } = await cards().open(payment());
    expect(url).toBe(`https://checkout.example.org/c/pay/${sessionId}`);
    expect(service.asked.at(-1)).toEqual({
      path: '/v1/checkout/sessions',
      key: `Bearer ${SECRET_KEY}`,
      idempotencyKey: payment().id,
      form: {
        mode: 'payment',
        client_reference_id: payment().id,
        customer_email: 'robin@example.org',
        success_url: 'https://lessons.example.org/billing',
        cancel_url: 'https://lessons.example.org/billing',
        'line_items[0][quantity]': '1',
        'line_items[0][price_data][currency]': 'usd',
        'line_items[0][price_data][unit_amount]': '4500',
        'line_items[0][price_data][product_data][name]': 'One lesson, number 3',
      },
    });
  });

  test('asked for twice under one id is one page', async () => {
    const id = '0190a000-0000-7000-8000-000000000002';
    const first = await cards().open(payment({ id }));
    expect(await cards().open(payment({ id }))).toEqual(first);
  });

  test('a wrong key or a service that is down refuses in words, and says that nothing was taken', async () => {
    await expect(cards('sk_test_wrong').open(payment({ id: 'other' }))).rejects.toMatchObject({
      fault: 'unavailable',
      forPeople: expect.stringContaining('Nothing was taken'),
    });
    service.goDown(true);
    await expect(cards().open(payment({ id: 'third' }))).rejects.toMatchObject({ fault: 'unavailable' });
    service.goDown(false);
  });
});

describe('a message', () => {
  const session = { id: 'cs_1', client_reference_id: 'payment-1' };
  const paid = sessionEvent('evt_1', 'checkout.session.completed', session);

  test('that was signed is read', () => {
    expect(cards().read(paid, sign(paid, WEBHOOK_SECRET))).toEqual({
      id: 'evt_1',
      type: 'checkout.session.completed',
      news: { kind: 'paid', paymentId: 'payment-1', sessionId: 'cs_1', amountMinor: 4500, currency: 'USD' },
    });
  });

  test('is read where one of several signatures fits, as while secrets are changed', () => {
    const [time, mac] = sign(paid, WEBHOOK_SECRET).split(',');
    const header = `${time},v1=${'0'.repeat(64)},${mac}`;
    expect(cards().read(paid, header).id).toBe('evt_1');
  });

  const ago = (seconds: number) => new Date(Date.now() - seconds * 1000);
  test.each<[string, string | null]>([
    ['without a signature', null],
    ['with an empty one', ''],
    ['with another secret', sign(paid, 'whsec_other')],
    ['signed for another body', sign(`${paid} `, WEBHOOK_SECRET)],
    ['signed too long ago', sign(paid, WEBHOOK_SECRET, ago(400))],
    [
      'with an old time written over',
      sign(paid, WEBHOOK_SECRET, ago(400)).replace(/t=\d+/, `t=${Math.floor(Date.now() / 1000)}`),
    ],
    ['with the scheme of test mode only', sign(paid, WEBHOOK_SECRET).replace('v1=', 'v0=')],
  ])('%s is refused', (_what, signature) => {
    expect(() => cards().read(paid, signature)).toThrow(expect.objectContaining({ fault: 'invalid' }));
  });

  test('within the tolerance is read', () => {
    expect(cards().read(paid, sign(paid, WEBHOOK_SECRET, ago(200))).id).toBe('evt_1');
  });

  test.each<[string, object, object | null]>([
    ['checkout.session.completed', { payment_status: 'unpaid' }, null],
    ['checkout.session.completed', { client_reference_id: null }, null],
    ['checkout.session.completed', { amount_total: null }, null],
    ['checkout.session.async_payment_succeeded', {}, { kind: 'paid', amountMinor: 4500 }],
    ['checkout.session.async_payment_failed', {}, { kind: 'failed', paymentId: 'payment-1' }],
    ['checkout.session.expired', {}, { kind: 'expired', paymentId: 'payment-1' }],
    ['checkout.session.expired', { client_reference_id: null }, null],
    ['customer.created', {}, null],
  ])('%s %j tells %j', (type, over, news) => {
    const body = sessionEvent('evt_2', type, { ...session, ...over });
    const read = cards().read(body, sign(body, WEBHOOK_SECRET)).news;
    if (news) expect(read).toMatchObject(news);
    else expect(read).toBeNull();
  });
});

// Stripe, "Supported currencies": zero-decimal and three-decimal currencies, and ISK and UGX as special cases.
describe('amounts as the service counts them', () => {
  test.each([
    ['USD', 4500, 4500],
    ['JPY', 4500, 4500],
    ['KRW', 4500, 4500],
    ['KWD', 12340, 12340],
    ['ISK', 4500, 450000],
    ['UGX', 4500, 450000],
  ])('%s %i are %i there, and back', (currency, minor, wire) => {
    expect(toWire(minor, currency)).toBe(wire);
    expect(fromWire(wire, currency.toLowerCase())).toEqual({ amountMinor: minor, currency });
  });

  test('a third decimal that is not zero is refused in words', () => {
    expect(() => toWire(12345, 'KWD')).toThrow(expect.objectContaining({ fault: 'unsupported' }));
  });
});
