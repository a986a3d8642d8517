import { readPart } from '@/lib/domain/breakdowns/parse-part';

/** The same part as version 1 of the recorder wrote it: the events in its line of JSON, then the voice. */
export const asVersionOne = (bytes: Uint8Array): Uint8Array<ArrayBuffer> => {
  const { head, voice } = readPart(bytes);
  const line = new TextEncoder().encode(`${JSON.stringify({ ...head, version: 1 })}\n`);
  return new Uint8Array([...line, ...voice]);
};
