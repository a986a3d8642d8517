'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { Dialog } from '@/app/_ui/dialog';
import { TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { WatchIt } from '@/app/lessons/_breakdown/watch-it';
import type { BreakdownOnPage } from '@/app/lessons/_swing/breakdown-on-page';
import { closeLessonAction, reopenLessonAction, withdrawLessonAction } from '@/app/lessons/actions';
import type { AssignmentId } from '@/lib/domain/drills/drill';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import type { Answer } from '@/lib/domain/shared/result';

type Props = {
  lesson: LessonDetail;
  breakdowns: readonly BreakdownOnPage[];
  isSender: boolean;
  isStaff: boolean;
  isMine: boolean;
  /** The given drill that asks for a swing, if one does. */
  answersId: AssignmentId | null;
};

/** What can be done with a lesson now: one main action, and the rarer ones beside it. */
export const LessonActs = ({ lesson, breakdowns, isSender, isStaff, isMine, answersId }: Props) => {
  const router = useRouter();
  const [asks, setAsks] = useState<'withdraw' | 'reopen' | null>(null);
  const [reason, setReason] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const isWaiting = lesson.state === 'submitted' || lesson.state === 'in_review';
  const isBack = lesson.state === 'returned' || lesson.state === 'closed';
  // What is to be done moves with the lesson: watch first, then send the next swing.
  const toWatch = isStaff ? undefined : breakdowns.find((one) => one.timeline !== null && !one.own?.isDone);
  const run = (work: () => Promise<Answer<unknown>>, then: () => void) =>
    start(async () => {
      const answer = await work();
      if (!answer.ok) return setRefusal(answer.message);
      setAsks(null);
      setRefusal(null);
      then();
    });
  const next = new URLSearchParams({
    player: lesson.player.id,
    ...(isBack ? { follows: lesson.id } : {}),
    ...(answersId ? { answers: String(answersId) } : {}),
  });
  return (
    <div className="stack tight">
      {toWatch ? <WatchIt breakdown={toWatch} /> : null}
      <p className="acts">
        {isSender && isBack && !lesson.followUp ? (
          <Link className={toWatch ? 'btn' : 'btn do big'} href={`/lessons/new?${next.toString()}`}>
            Send the next swing
          </Link>
        ) : null}
        {lesson.followUp && lesson.followUp.number > 0 ? (
          <Link className="btn" href={`/lessons/${lesson.followUp.id}`}>
            To lesson {lesson.followUp.number}, which followed
          </Link>
        ) : null}
        {isSender && lesson.state === 'draft' ? (
          <Link className="btn do" href={`/lessons/new?player=${lesson.player.id}&draft=${lesson.id}`}>
            Go on
          </Link>
        ) : null}
        {isStaff && isWaiting ? (
          <Link className="btn do" href={`/lessons/${lesson.id}/bench`}>
            {lesson.state === 'submitted'
              ? 'Take it to the bench'
              : isMine
                ? 'Go on at the bench'
                : 'Look at the bench'}
          </Link>
        ) : null}
        {isStaff && isBack ? (
          <button type="button" className="btn" onClick={() => setAsks('reopen')}>
            Reopen
          </button>
        ) : null}
        {lesson.state === 'returned' && (isStaff || isSender) ? (
          <button
            type="button"
            className="btn quiet"
            disabled={isBusy}
            onClick={() =>
              run(
                () => closeLessonAction({ lessonId: lesson.id }),
                () => router.refresh(),
              )
            }
          >
            Close it
          </button>
        ) : null}
        {isSender && (isWaiting || lesson.state === 'draft') ? (
          <button type="button" className="btn quiet" onClick={() => setAsks('withdraw')}>
            Withdraw
          </button>
        ) : null}
      </p>
      <p>
        <Link href={`/players/${lesson.player.id}`}>All lessons of {lesson.player.name}</Link>
        {lesson.follows ? (
          <>
            {' '}
            <span className="soft">after</span>{' '}
            <Link href={`/lessons/${lesson.follows.id}`}>lesson {lesson.follows.number}</Link>
          </>
        ) : null}
      </p>
      {refusal && asks === null ? <Notice kind="refused">{refusal}</Notice> : null}
      <Dialog
        isOpen={asks !== null}
        onClose={() => setAsks(null)}
        title={asks === 'reopen' ? 'Reopen this lesson?' : 'Withdraw this lesson?'}
        footer={
          <button
            type="button"
            className="btn do"
            disabled={isBusy}
            onClick={() =>
              asks === 'reopen'
                ? run(
                    () => reopenLessonAction({ lessonId: lesson.id, reason }),
                    () => router.push(`/lessons/${lesson.id}/bench`),
                  )
                : run(
                    () => withdrawLessonAction({ lessonId: lesson.id, reason }),
                    () => router.refresh(),
                  )
            }
          >
            {asks === 'reopen' ? 'Reopen it' : 'Withdraw it'}
          </button>
        }
      >
        <p>
          {asks === 'reopen'
            ? 'The player keeps reading what you returned until you return it again.'
            : 'Nobody will answer it then. Your clips stay readable for you. What was paid is given back by the program.'}
        </p>
        <TextField
          label={asks === 'reopen' ? 'Why' : 'Why, if you like'}
          value={reason}
          onChange={(event) => setReason(event.target.value)}
        />
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </div>
  );
};
