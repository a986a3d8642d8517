import type { IncomingMessage, ServerResponse } from 'node:http';
import { UploadRefusal, toldRefusal } from './refusal';

/** How long a sender that was turned away may still push bytes before its connection is cut. */
const LINGER_MS = 3000;

/** The headers of a Node request as a web Request without a body, for session checks. */
export const requestOf = (request: IncomingMessage): Request => {
  const headers = new Headers();
  for (const [name, value] of Object.entries(request.headers))
    if (value !== undefined) headers.set(name, Array.isArray(value) ? value.join(', ') : value);
  // The host is not used: sessions are read from the cookie.
  return new Request(new URL(request.url ?? '/', 'http://this.invalid'), { headers });
};

/** Answers JSON that nobody may keep. */
export const sendJson = (
  response: ServerResponse,
  status: number,
  body: unknown,
  headers: Record<string, string> = {},
): void => {
  response.writeHead(status, {
    'content-type': 'application/json',
    'cache-control': 'no-store',
    'x-content-type-options': 'nosniff',
    ...headers,
  });
  response.end(JSON.stringify(body));
};

/**
 * Tells a refusal. For one that is final the rest of the body is read and thrown away for a moment before the
 * connection ends: a reset with unread bytes would reach the sender before the answer does. Where the sender tries
 * again anyway the connection ends at once, so that no byte is sent in vain: Chromium repeats a PUT by itself after
 * a reset, from byte 0.
 */
export const sendRefusal = (request: IncomingMessage, response: ServerResponse, error: unknown): void => {
  if (response.headersSent || response.destroyed) {
    request.destroy();
    return;
  }
  const told = toldRefusal(error);
  const isFinal =
    error instanceof UploadRefusal || told.fault === 'not-signed-in' || told.fault === 'not-found';
  sendJson(
    response,
    told.status,
    { error: told.message, fault: told.fault },
    isFinal ? {} : { connection: 'close' },
  );
  if (isFinal) drop(request);
};

/** Throws the rest of a body away, and the connection too when the rest is long. */
const drop = (request: IncomingMessage): void => {
  if (request.complete || request.destroyed) return;
  const timer = setTimeout(() => request.destroy(), LINGER_MS);
  timer.unref();
  const stop = () => clearTimeout(timer);
  request.once('end', stop);
  request.once('close', stop);
  request.resume();
};
