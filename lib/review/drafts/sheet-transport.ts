import * as z from 'zod';
import type { Sheet } from '@/lib/domain/review/sheet';

/** What the server says to a save. */
export type SaveAnswer =
  | { readonly is: 'kept'; readonly revision: number }
  /** Somebody saved in between: their sheet as it came over the wire, not yet parsed. */
  | {
      readonly is: 'stale';
      readonly sheet: unknown;
      readonly revision: number;
      readonly byName: string;
      readonly at: string;
    }
  /** It will not be taken, now or later; the sentence is for people. */
  | { readonly is: 'refused'; readonly sentence: string }
  /** Not reached, or not able just now: worth another try. */
  | { readonly is: 'failed'; readonly sentence: string };

export interface SaveRequest {
  readonly baseRevision: number;
  readonly sheet: Sheet;
}

/** Sends one save. Must not throw: a lost connection is an answer ("failed"). */
export type SaveSheet = (
  request: SaveRequest,
  options: { readonly keepalive: boolean },
) => Promise<SaveAnswer>;

const keptSchema = z.object({ revision: z.int().nonnegative() });
const staleSchema = z.object({
  sheet: z.unknown(),
  revision: z.int().nonnegative(),
  byName: z.string(),
  at: z.iso.datetime({ offset: true }),
});
const refusalSchema = z.object({ message: z.string() });

/** Faults that pass by themselves: too many requests, gateway trouble, a server that starts again. */
const PASSES = new Set([408, 425, 429, 500, 502, 503, 504]);

/**
 * Saves by `PUT url` with `{baseRevision, sheet}` as JSON. The server answers 200 `{revision}`, 409 `{sheet, revision,
 * byName, at}`, or a fault with `{message}` for people. `keepalive` lets the request outlive the page.
 */
export const httpSaveSheet =
  (url: string): SaveSheet =>
  async ({ baseRevision, sheet }, { keepalive }) => {
    try {
      const response = await fetch(url, {
        method: 'PUT',
        headers: { 'content-type': 'application/json', accept: 'application/json' },
        body: JSON.stringify({ baseRevision, sheet }),
        credentials: 'same-origin',
        keepalive,
      });
      const body: unknown = await response.json().catch(() => null);
      const kept = keptSchema.safeParse(body);
      if (response.ok && kept.success) return { is: 'kept', revision: kept.data.revision };
      const stale = staleSchema.safeParse(body);
      if (response.status === 409 && stale.success)
        return { is: 'stale', ...stale.data, sheet: stale.data.sheet };
      const sentence = refusalSchema.safeParse(body).data?.message;
      if (response.ok || PASSES.has(response.status)) {
        return { is: 'failed', sentence: sentence ?? 'Cagepost could not save just now.' };
      }
      return { is: 'refused', sentence: sentence ?? 'Cagepost did not take this change.' };
    } catch {
      return { is: 'failed', sentence: 'There is no connection.' };
    }
  };
