'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Notice } from '@/app/_ui/notice';
import { Pennant } from '@/app/_ui/pennant';
import { resumePracticeAction, sayClearedAction } from '@/app/practice/actions';
import type { Given } from '@/lib/domain/drills/given';
import { PAIN_WORDS } from '@/lib/domain/drills/practice';
import type { PersonId } from '@/lib/domain/shared/ids';

type Props = {
  playerId: PersonId;
  playerName: string;
  given: readonly Given[];
  isStaff: boolean;
  /** The viewer may say for the player that a clinician cleared it. */
  maySayCleared: boolean;
};

/** What is read while pain pauses practice, and the two steps out of it: the player's side says so, then the coach opens. */
export const PausePart = ({ playerId, playerName, given, isStaff, maySayCleared }: Props) => {
  const router = useRouter();
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const paused = given.filter((one) => one.pausedAt !== null && one.endedAt === null);
  if (paused.length === 0) return null;
  const isSaid = paused.every((one) => one.pauseReason === 'said-cleared');
  const run = (work: typeof sayClearedAction) =>
    start(async () => {
      const answer = await answerOf(work({ playerId }), 'The connection is lost. Press again in a moment.');
      setRefusal(answer.ok ? null : answer.message);
      if (answer.ok) router.refresh();
    });
  return (
    <div className="stack tight">
      {isStaff ? (
        <Pennant>
          Practice is paused: {playerName} reported pain.{' '}
          {isSaid
            ? 'The player’s side says that a clinician cleared it.'
            : 'It stays so until the player or a guardian says that a clinician cleared it.'}
        </Pennant>
      ) : (
        <Notice kind="plain" title="Practice is paused">
          <p>{PAIN_WORDS}</p>
          {isSaid ? <p>You said that a clinician cleared it. Your coach opens practice again.</p> : null}
        </Notice>
      )}
      {isStaff && isSaid ? (
        <p className="acts">
          <button type="button" className="btn" disabled={isBusy} onClick={() => run(resumePracticeAction)}>
            Open practice again
          </button>
        </p>
      ) : null}
      {!isStaff && maySayCleared && !isSaid ? (
        <p className="acts">
          <button type="button" className="btn" disabled={isBusy} onClick={() => run(sayClearedAction)}>
            A clinician cleared it
          </button>
        </p>
      ) : null}
      {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
    </div>
  );
};
