import { keepMailChoices } from '@/lib/data/notices.write';
import { transaction } from '@/lib/data/transaction';
import { isChoosable, type MailChoice, type NoticeKind } from '@/lib/domain/notices/notice';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';

/**
 * Somebody chooses how to hear of these kinds by mail. Refused for those that keep somebody from harm: they always go
 * at once.
 */
export async function chooseMail(
  viewer: Viewer,
  chosen: readonly { kind: NoticeKind; mail: MailChoice }[],
): Promise<void> {
  if (chosen.some(({ kind }) => !isChoosable(kind))) {
    throw new CagepostError(
      'invalid',
      'Mails about pain, a pause, a concern, an erasure or a birthday always come at once. Nothing was changed.',
    );
  }
  await transaction(viewer, (tx) => keepMailChoices(viewer, tx, chosen));
}
