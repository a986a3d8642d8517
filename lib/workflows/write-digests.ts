import { listDigestReaders, takeForDigest, type DigestReader } from '@/lib/data/notices.system';
import { queueMail } from '@/lib/data/outbox.write';
import { transaction } from '@/lib/data/transaction';
import { lastMorning } from '@/lib/domain/notices/quiet-hours';
import { noticeWords } from '@/lib/domain/notices/words';
import type { System } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';

const MOST_LINES = 20;

/**
 * Gathers what people want to hear once a day into one mail for each reader and program, at 8 in the morning of the
 * reader's zone. What was read on the site by then is left out, and nothing new means no mail. Two workers at once
 * write one. Answers how many mails were queued.
 */
export async function writeDigests(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  system: System,
): Promise<number> {
  const now = clock.now();
  let written = 0;
  for (const reader of await listDigestReaders(system, now)) {
    if (await writeOne(system, reader, now)) written += 1;
  }
  if (written > 0) await queue.drainOutbox();
  return written;
}

const writeOne = (system: System, reader: DigestReader, now: Date): Promise<boolean> =>
  transaction(system, async (tx) => {
    const morning = lastMorning(now, reader.timeZone);
    const taken = await takeForDigest(system, tx, reader, { morning, now });
    const fresh = taken?.notices.filter((one) => !one.isRead) ?? [];
    if (!taken || fresh.length === 0) return false;
    const lines = fresh.map((one) => noticeWords(one.body).title);
    await queueMail(system, tx, {
      id: taken.id,
      kind: 'digest',
      to: reader.email,
      personId: reader.personId,
      programId: reader.program.id,
      notBefore: now,
      data: {
        programName: reader.program.name,
        lines: lines.slice(0, MOST_LINES),
        more: Math.max(0, lines.length - MOST_LINES),
        path: '/notices',
      },
    });
    return true;
  });
