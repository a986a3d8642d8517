import { mkdir, rename, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { createTransport } from 'nodemailer';
import type { Mailer } from '@/lib/workflows/ports';

export interface MailerSettings {
  /** Absent: mail is written to files. */
  smtpUrl?: string | undefined;
  from: string;
  /** The folder of this installation's data; mail files lie in its `outbox`. */
  dataFolder: string;
}

type Outgoing = Parameters<Mailer['send']>[0] & { from: string };

/**
 * What stands in the head of every mail: that a machine wrote it, so that no holiday answers come back, and the address
 * that ends such mails with one click (RFC 2369; RFC 8058, which wants https).
 */
const headersOf = ({ stopUrl }: Outgoing): Record<string, string> => ({
  'Auto-Submitted': 'auto-generated',
  ...(stopUrl && { 'List-Unsubscribe': `<${stopUrl}>` }),
  ...(stopUrl?.startsWith('https:') && { 'List-Unsubscribe-Post': 'List-Unsubscribe=One-Click' }),
});

const messageOf = (mail: Outgoing) => {
  const { from, to, subject, text, html, messageId } = mail;
  return { from, to, subject, text, html, messageId, headers: headersOf(mail) };
};

const sendBySmtp = (smtpUrl: string) => {
  const transport = createTransport({ url: smtpUrl, connectionTimeout: 15_000, socketTimeout: 30_000 });
  return async (mail: Outgoing) => {
    await transport.sendMail(messageOf(mail));
  };
};

const writeToOutbox = (folder: string) => {
  const transport = createTransport({ streamTransport: true, buffer: true, newline: 'unix' });
  return async (mail: Outgoing) => {
    const { message } = await transport.sendMail(messageOf(mail));
    await mkdir(folder, { recursive: true });
    // Named by its message id, so that a mail sent again after a crash replaces itself.
    const file = path.join(folder, `${mail.messageId.replace(/[^\w.@-]/g, '')}.eml`);
    const draft = `${file}.${process.pid}.part`;
    await writeFile(draft, message as Buffer);
    await rename(draft, file);
  };
};

/** Sends by SMTP, or without a server writes `outbox/<messageId>.eml` under the data folder. */
export const createMailer = (settings: MailerSettings): Mailer => {
  const outbox = path.join(/*turbopackIgnore: true*/ settings.dataFolder, 'outbox');
  const deliver = settings.smtpUrl ? sendBySmtp(settings.smtpUrl) : writeToOutbox(outbox);
  return { send: (mail) => deliver({ ...mail, from: settings.from }) };
};
