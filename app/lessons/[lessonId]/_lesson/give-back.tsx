'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { giveBackPackLessonAction } from '@/app/program/billing/actions';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';

/** Gives the lesson that a pack paid for back to its pack, with a reason. */
export const GiveBack = ({ lessonId }: { lessonId: LessonId }) => {
  const [isOpen, setOpen] = useState(false);
  const [id] = useState(() => crypto.randomUUID() as unknown as LedgerEntryId);
  const [reason, setReason] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const giveBack = () =>
    start(async () => {
      const answer = await answerOf(
        giveBackPackLessonAction({ id, lessonId, reason }),
        'The connection is lost. Press again in a moment: it is given back once, whatever happens.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      setOpen(false);
      router.refresh();
    });
  return (
    <>
      <p className="acts">
        <button type="button" className="btn small" onClick={() => setOpen(true)}>
          Give back to the pack
        </button>
      </p>
      <Dialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        title="Give this lesson back to its pack"
        footer={
          <button type="button" className="btn do" onClick={giveBack} disabled={isBusy}>
            Give it back
          </button>
        }
      >
        <p className="small soft">
          The pack has one lesson more again, and this one costs nothing. It cannot be undone.
        </p>
        <TextField
          label="Why"
          hint="The reason stays in the ledger."
          value={reason}
          onChange={(event) => setReason(event.target.value)}
        />
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </>
  );
};
