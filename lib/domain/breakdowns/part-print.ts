import { readPart } from './parse-part';

/**
 * A print of what a part says, whichever version wrote its file: SHA-256, in hexadecimal, over its head as this version
 * reads it and its voice. Rejects with a `CagepostError` for what is no part, and with a `TypeError` where there is no
 * WebCrypto (plain http to another machine).
 */
export const partPrint = async (bytes: Uint8Array): Promise<string> => {
  const { head, voice } = readPart(bytes);
  const line = new TextEncoder().encode(`${JSON.stringify(head)}\n`);
  const said = new Uint8Array(line.byteLength + voice.byteLength);
  said.set(line);
  said.set(voice, line.byteLength);
  const digest = await crypto.subtle.digest('SHA-256', said);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
};
