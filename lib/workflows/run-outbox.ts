import { addSeconds } from 'date-fns';
import { markMailFailed, markMailSent, takeDueMail } from '@/lib/data/outbox.system';
import { transaction } from '@/lib/data/transaction';
import type { System } from '@/lib/domain/people/viewer';
import { composeMail } from '@/lib/documents/compose-mail';
import type { Mailer, Ports } from './ports';

const AT_ONCE = 200;
// A mail server that hangs is given up by the mailer well before this, so that the failure is still noted.
const PATIENCE_MS = 120_000;

/**
 * Sends the mails that are due, one after the other, each in its own transaction: at least once, and a mail server
 * that is down delays them with growing pauses and loses none. Returns how many left.
 */
export async function drainOutbox(
  { clock, log, mailer, siteUrl }: Pick<Ports, 'clock' | 'log'> & { mailer: Mailer; siteUrl: string },
  system: System,
): Promise<number> {
  let sent = 0;
  for (let tried = 0; tried < AT_ONCE; tried++) {
    const outcome = await transaction(
      system,
      async (tx) => {
        const mail = await takeDueMail(system, tx, clock.now());
        if (!mail) return 'empty';
        try {
          if (!mail.body) throw new Error('the stored data of this mail does not fit its kind');
          const composed = await composeMail(mail.body, siteUrl);
          await mailer.send({ to: mail.to, ...composed, messageId: `<${mail.id}@cagepost>` });
          await markMailSent(system, tx, mail.id, clock.now());
          return 'sent';
        } catch (error) {
          const pause = Math.min(3600, 15 * 2 ** mail.attempts);
          const words = error instanceof Error ? error.message : String(error);
          await markMailFailed(system, tx, mail.id, words, addSeconds(clock.now(), pause));
          log.warn({ mail: mail.id, attempts: mail.attempts + 1, err: error }, 'mail could not leave');
          return 'failed';
        }
      },
      PATIENCE_MS,
    );
    if (outcome === 'empty') break;
    if (outcome === 'sent') sent += 1;
  }
  return sent;
}
