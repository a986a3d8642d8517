import { env } from '@/lib/platform/env';
import { createMailer } from '@/lib/platform/mailer';
import type { Mailer } from '@/lib/workflows/ports';

/** Mail that somebody waits for and that therefore leaves at once; all other mail goes by the outbox. */
export const mailer: Mailer = {
  send: (mail) =>
    createMailer({ smtpUrl: env.SMTP_URL, from: env.MAIL_FROM, dataFolder: env.DATA_DIR }).send(mail),
};

/** The address under which people open this site, without a slash at its end. */
export const siteOrigin = (): string => new URL(env.NEXTAUTH_URL).origin;
