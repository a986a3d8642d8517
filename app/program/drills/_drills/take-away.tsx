'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { clipQueue } from '@/app/_ui/clip-queue';
import { Dialog } from '@/app/_ui/dialog';
import { Notice } from '@/app/_ui/notice';
import type { ClipId, PersonId } from '@/lib/domain/shared/ids';
import { takeAwayDrillClipAction } from '../actions';

type Props = {
  clipId: ClipId;
  title: string;
  /** Players may be watching it, not only its sender. */
  isShown?: boolean;
  /** Whose browser may still be sending it. */
  senderId?: PersonId;
};

/** Takes a clip away, after a question. */
export const TakeAway = ({ clipId, title, isShown = false, senderId }: Props) => {
  const router = useRouter();
  const [isAsking, setAsking] = useState(false);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const takeAway = () =>
    start(async () => {
      const answer = await answerOf(
        takeAwayDrillClipAction({ clipId }),
        'The connection is lost. Press again.',
      );
      if (!answer.ok) return setRefusal(answer.message);
      if (senderId) await clipQueue(senderId).queue.remove(clipId);
      setAsking(false);
      router.refresh();
    });
  return (
    <>
      <button type="button" className="btn quiet small" onClick={() => setAsking(true)}>
        Take the clip away<span className="sr">: {title}</span>
      </button>
      <Dialog
        isOpen={isAsking}
        onClose={() => setAsking(false)}
        title={`Take the clip of ${title} away?`}
        footer={
          <button type="button" className="btn do" onClick={takeAway} disabled={isBusy}>
            Take it away
          </button>
        }
      >
        <p>
          {isShown
            ? 'Nobody sees it from now on, in no version and no lesson, and its files are deleted. The drill’s words and drawing stay.'
            : 'What went up already is thrown away. The film on your device stays where it is.'}
        </p>
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </>
  );
};
