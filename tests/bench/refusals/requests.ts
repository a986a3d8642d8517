import type { Fault } from '@/lib/domain/shared/errors';
import { callServerAction, type ServerAction } from '../../support/action-client';
import type { Operation } from './operations';
import type { Call, OperationRow, Outcome } from './row';

/** What a call came to: an outcome, or in words what else happened; and the text that came along. */
export interface Ending {
  outcome: Outcome | `broken: ${string}`;
  text: string;
}

const BY_STATUS: Record<number, Outcome> = {
  400: 'invalid',
  401: 'not-signed-in',
  403: 'safeguarding',
  404: 'not-found',
  405: 'no-such-method',
  409: 'wrong-state',
  413: 'too-large',
  415: 'unsupported',
  429: 'too-many',
  503: 'unavailable',
};

const led = (to: string): Outcome => (to.includes('/sign-in') ? 'sign-in' : 'away');

const readPage = async (response: Response): Promise<Ending> => {
  const text = await response.text();
  const location = response.headers.get('location');
  if (location) return { outcome: led(location), text };
  // A page that has begun to stream cannot change its status any more: then it carries the rest inside.
  const inside = /NEXT_REDIRECT;\w+;([^;]+);/.exec(text)?.[1];
  if (inside) return { outcome: led(inside), text };
  if (response.status === 404 || text.includes('NEXT_HTTP_ERROR_FALLBACK;404'))
    return { outcome: 'not-found', text };
  return { outcome: response.status === 200 ? 'ok' : `broken: status ${response.status}`, text };
};

/** An answer that tells of nothing: an empty list, or an object of such; a page of one may say `null` for where it goes on. */
const isEmpty = (value: unknown): boolean =>
  Array.isArray(value)
    ? value.length === 0
    : typeof value === 'object' &&
      value !== null &&
      Object.values(value).every((part) => part === null || isEmpty(part));

/** The value of an action that answers with lists, all of them empty. */
const holdsNothing = (value: unknown): boolean =>
  typeof value === 'object' &&
  value !== null &&
  (Array.isArray(value) || Object.values(value).some(Array.isArray)) &&
  isEmpty(value);

const readRoute = async (response: Response, method: string): Promise<Ending> => {
  const text = await response.text();
  if (response.status < 400) {
    const isJson = response.headers.get('content-type')?.includes('application/json') ?? false;
    const hasNothing = method === 'GET' && isJson && isEmpty(JSON.parse(text));
    return { outcome: hasNothing ? 'nothing' : 'ok', text };
  }
  const fault = /"fault":"([\w-]+)"/.exec(text)?.[1] as Fault | undefined;
  return { outcome: fault ?? BY_STATUS[response.status] ?? `broken: status ${response.status}`, text };
};

/** Makes the call of an operation at `origin` with this cookie, and says how it ended. */
export async function request(
  {
    origin,
    operation,
    row,
    actions,
  }: { origin: string; operation: Operation; row: OperationRow; actions: Map<string, ServerAction> },
  call: Call,
  {
    cookie,
    headers = {},
    method = row.method ?? (operation.kind === 'page' ? 'GET' : operation.name.split(' ')[0]!),
  }: { cookie: string | undefined; headers?: Record<string, string>; method?: string | undefined },
): Promise<Ending> {
  if (operation.kind === 'action') {
    const action = actions.get(operation.name.replace(/^action /, ''));
    if (!action) return { outcome: 'broken: the build does not know it', text: '' };
    const reply = await callServerAction(origin, action, call.args ?? [], {
      ...(cookie && { cookie }),
      headers,
    });
    const text = JSON.stringify(reply.answer);
    if (reply.redirect) return { outcome: led(reply.redirect), text };
    if (!reply.answer) return { outcome: `broken: status ${reply.status}`, text };
    if (!reply.answer.ok) return { outcome: reply.answer.fault, text };
    return { outcome: holdsNothing(reply.answer.value) ? 'nothing' : 'ok', text };
  }
  const response = await fetch(origin + call.path, {
    method,
    redirect: 'manual',
    headers: {
      ...(operation.kind === 'page' ? { accept: 'text/html' } : { origin, 'sec-fetch-site': 'same-origin' }),
      ...(cookie && { cookie }),
      ...call.headers,
      ...headers,
    },
    ...(call.body !== undefined && { body: call.body }),
  });
  return operation.kind === 'page' ? readPage(response) : readRoute(response, method);
}
