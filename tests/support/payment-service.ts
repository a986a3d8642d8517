import { createHmac } from 'node:crypto';
import { createServer, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';

const textOf = async (request: IncomingMessage) => {
  let text = '';
  for await (const part of request) text += String(part);
  return text;
};

/** One request as the service saw it. */
export interface Asked {
  path: string;
  key: string | undefined;
  idempotencyKey: string | undefined;
  form: Record<string, string>;
}

/**
 * A small payment service on this machine. It speaks what Stripe documents of Checkout: `POST /v1/checkout/sessions`
 * with a form body, Bearer key and `Idempotency-Key` (the same key is answered as the first time), errors as
 * `{ error: { type, message } }`.
 */
export async function startPaymentService(secretKey: string) {
  const asked: Asked[] = [];
  const answered = new Map<string, object>();
  let isDown = false;
  const server = createServer((request, response) => {
    void (async () => {
      const form = Object.fromEntries(new URLSearchParams(await textOf(request)));
      const { authorization, 'idempotency-key': idempotencyKey } = request.headers;
      const say = (status: number, body: object) => {
        response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(body));
      };
      asked.push({
        path: request.url ?? '',
        key: authorization,
        idempotencyKey: String(idempotencyKey),
        form,
      });
      if (isDown) return say(500, { error: { type: 'api_error', message: 'Down' } });
      if (authorization !== `Bearer ${secretKey}`) {
        return say(401, { error: { type: 'invalid_request_error', message: 'Invalid API Key provided' } });
      }
      if (request.method !== 'POST' || request.url !== '/v1/checkout/sessions') {
        return say(404, { error: { type: 'invalid_request_error', message: 'Unrecognized request URL' } });
      }
      const known = answered.get(String(idempotencyKey));
      if (known) return say(200, known);
      const id = `cs_test_${answered.size + 1}`;
      const session = {
        id,
        object: 'checkout.session',
        client_reference_id: form.client_reference_id,
        url: `https://checkout.example.org/c/pay/${id}`,
        payment_status: 'unpaid',
        status: 'open',
      };
      answered.set(String(idempotencyKey), session);
      say(200, session);
    })();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    host: { protocol: 'http' as const, host: '127.0.0.1', port },
    asked,
    goDown: (down: boolean) => void (isDown = down),
    stop: () => new Promise((resolve) => server.close(resolve)),
  };
}

/**
 * Signs a message as the service documents it: `t` the time in seconds, `v1` the HMAC-SHA256 of `t`, a dot and the
 * body with the signing secret (Stripe, "Verify webhook signatures manually").
 */
export const sign = (payload: string, secret: string, at = new Date()): string => {
  const seconds = Math.floor(at.getTime() / 1000);
  const mac = createHmac('sha256', secret).update(`${seconds}.${payload}`).digest('hex');
  return `t=${seconds},v1=${mac}`;
};

/** The body of an event about a Checkout session, with the documented fields that matter here. */
export const sessionEvent = (
  id: string,
  type: string,
  session: {
    id: string;
    client_reference_id: string | null;
    amount_total?: number | null;
    currency?: string;
    payment_status?: string;
  },
): string =>
  JSON.stringify({
    id,
    object: 'event',
    api_version: '2026-01-01',
    created: 1_780_000_000,
    livemode: false,
    pending_webhooks: 1,
    request: { id: null, idempotency_key: null },
    type,
    data: {
      object: {
        object: 'checkout.session',
        amount_total: 4500,
        currency: 'usd',
        payment_status: 'paid',
        ...session,
      },
    },
  });
