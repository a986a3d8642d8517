import { readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { expect, type TestInfo } from '@playwright/test';

/** The text of a mail as it was sent, its quoted-printable lines joined (RFC 2045, section 6.7). */
const bodyOf = (file: string) =>
  readFileSync(file, 'utf8')
    .replace(/=\r?\n/g, '')
    .replace(/=([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(parseInt(hex, 16)));

/** Waits for the newest mail to this address, and answers the path of the first link of it that fits. */
export async function linkInMailTo(info: TestInfo, address: string, link: RegExp): Promise<string> {
  // Without a mail server the program writes mails into its data folder.
  const outbox = path.resolve(String(info.config.metadata['dataDir']), 'outbox');
  let found: string | undefined;
  await expect(() => {
    const letters = readdirSync(outbox)
      .filter((name) => name.endsWith('.eml'))
      .map((name) => path.join(outbox, name))
      .sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs)
      .map(bodyOf)
      .filter((body) => body.includes(`To: ${address}`));
    found = letters.map((body) => link.exec(body)?.[0]).find(Boolean);
    expect(found, `a mail to ${address}`).toBeDefined();
  }).toPass({ timeout: 30_000 });
  return found!;
}
