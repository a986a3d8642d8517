import { addSeconds } from 'date-fns';
import { holdMail, markMailFailed, markMailSent, takeDueMail, type DueMail } from '@/lib/data/outbox.system';
import { transaction, type Tx } from '@/lib/data/transaction';
import { composeMail } from '@/lib/documents/compose-mail';
import { stoppable } from '@/lib/domain/notices/stop';
import { quietUntil } from '@/lib/domain/notices/quiet-hours';
import type { System } from '@/lib/domain/people/viewer';
import type { Mailer, Ports } from './ports';

const AT_ONCE = 200;
// A mail server that hangs is given up by the mailer well before this, so that the failure is still noted.
const PATIENCE_MS = 120_000;

export type OutboxPorts = Pick<Ports, 'clock' | 'log'> & {
  mailer: Mailer;
  siteUrl: string;
  /** The signed address that ends one kind of mail for one person. */
  stopUrl: (personId: string, kind: string) => string;
  /** Asked before each mail: a worker that is to end finishes the one in hand, so that it does not go again. */
  isEnding?: () => boolean;
};

/**
 * Sends the mails that are due, one after the other, each in its own transaction: at least once, and a mail server
 * that is down delays them with growing pauses and loses none. One that an outage carried into the quiet hours of its
 * reader waits for the morning. Returns how many left.
 */
export async function drainOutbox(ports: OutboxPorts, system: System): Promise<number> {
  const { clock, log } = ports;
  let sent = 0;
  for (let tried = 0; tried < AT_ONCE && !ports.isEnding?.(); tried++) {
    const outcome = await transaction(
      system,
      async (tx) => {
        const mail = await takeDueMail(system, tx, clock.now());
        if (!mail) return 'empty';
        try {
          return await send(ports, system, tx, mail);
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

async function send(
  { clock, mailer, siteUrl, stopUrl }: OutboxPorts,
  system: System,
  tx: Tx,
  mail: DueMail,
): Promise<'sent' | 'held'> {
  const now = clock.now();
  const until = mail.reader ? quietUntil(mail.reader, now) : now;
  if (until > now) {
    await holdMail(system, tx, mail.id, until);
    return 'held';
  }
  if (!mail.body) throw new Error('the stored data of this mail does not fit its kind');
  const kind = stoppable(mail.body.kind);
  const choices =
    kind && mail.personId
      ? {
          choicesUrl: new URL('/notices/choices', siteUrl).toString(),
          stopUrl: stopUrl(mail.personId, kind),
        }
      : undefined;
  const composed = await composeMail(mail.body, siteUrl, choices);
  // Made of the row's id: a mail that is sent again, because a crash came before the note, is the same one.
  const messageId = `<${mail.id}@cagepost>`;
  await mailer.send({ to: mail.to, ...composed, messageId, ...(choices && { stopUrl: choices.stopUrl }) });
  await markMailSent(system, tx, mail.id, now);
  return 'sent';
}
