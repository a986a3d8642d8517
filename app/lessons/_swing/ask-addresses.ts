import * as z from 'zod';

const addressesSchema = z.object({ video: z.string(), table: z.string(), poster: z.string() });

/** Signed addresses of a clip's files, for who is signed in. */
export type ClipAddresses = z.infer<typeof addressesSchema>;

/**
 * Asks the server where the files of a clip lie: `gone` when it is not the viewer's to see any more, `away` when the server
 * cannot say now. Rejects when the connection is lost.
 */
export async function askAddresses(
  clipId: string,
  signal: AbortSignal,
): Promise<ClipAddresses | 'gone' | 'away'> {
  const response = await fetch(`/api/clips/${clipId}/address`, { signal });
  if (response.ok) return addressesSchema.parse(await response.json());
  return response.status === 404 ? 'gone' : 'away';
}
