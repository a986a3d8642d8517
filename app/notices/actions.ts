'use server';

import { revalidatePath } from 'next/cache';
import * as z from 'zod';
import { isChoosable, MAIL_CHOICES, noticeKinds } from '@/lib/domain/notices/notice';
import { chooseMail } from '@/lib/workflows/choose-mail';
import { readNotices } from '@/lib/workflows/read-notices';
import { formAction } from '../_server/action';
import { ports } from '../_server/ports';

/** Marks every notice that is shown as read. */
export const markAllRead = formAction('notices.write', z.object({}), async (viewer) => {
  const count = await readNotices(ports, viewer, 'all');
  revalidatePath('/notices');
  return { count };
});

const choices = Object.fromEntries(
  noticeKinds.filter(isChoosable).map((kind) => [kind, z.enum(MAIL_CHOICES).optional()]),
);

/** Keeps how the viewer hears of each kind by mail; kinds that the form does not name stay as they are. */
export const chooseMails = formAction('notices.write', z.object(choices), async (viewer, input) => {
  const chosen = noticeKinds.flatMap((kind) => {
    const mail = input[kind];
    return mail ? [{ kind, mail }] : [];
  });
  await chooseMail(viewer, chosen);
  return { isKept: true };
});
