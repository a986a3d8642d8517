import { createHmac, timingSafeEqual } from 'node:crypto';
import * as z from 'zod';
import { deriveKey } from './uploads/signatures';

// The address stands in mails that people keep for years, so it never expires; all it can do is to end one kind of
// mail for one person.

const MARK_LETTERS = 43; // SHA-256 in base64url

const markOf = (secret: string, personId: string, kind: string): string =>
  createHmac('sha256', deriveKey(secret, 'stop-mail')).update(`${personId} ${kind}`).digest('base64url');

const tokenSchema = z
  .string()
  .max(200)
  .regex(/^[\da-f-]{36}[.][a-z-]{1,40}[.][\w-]+$/);

/** The address below `siteUrl` that ends one kind of mail for one person: read by mail programs and by people alike. */
export const stopAddress = (
  secret: string,
  siteUrl: string,
  { personId, kind }: { personId: string; kind: string },
): string =>
  new URL(`/api/notices/stop/${personId}.${kind}.${markOf(secret, personId, kind)}`, siteUrl).toString();

/** Whom and what a token ends; null when we did not write it. */
export function readStopToken(secret: string, token: string): { personId: string; kind: string } | null {
  if (!tokenSchema.safeParse(token).success) return null;
  const [personId = '', kind = '', mark = ''] = token.split('.');
  if (mark.length !== MARK_LETTERS) return null;
  const right = markOf(secret, personId, kind);
  return timingSafeEqual(Buffer.from(mark), Buffer.from(right)) ? { personId, kind } : null;
}
