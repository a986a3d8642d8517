import type { Storage } from './ports';

/** A small file of the storage as a whole, or null when it is not there. */
export async function bytesOf(storage: Pick<Storage, 'read'>, key: string): Promise<Uint8Array | null> {
  const stream = await storage.read(key);
  if (!stream) return null;
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}
