'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Dialog } from '@/app/_ui/dialog';
import { TextArea, TextField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import type { LessonId } from '@/lib/domain/shared/ids';
import { movePromiseAction } from '../actions';

type Props = {
  lessonId: LessonId;
  playerName: string;
  /** The present promise on the program's clocks, as a date field writes it, and in words. */
  local: string;
  words: string;
};

/** Makes a promise later that cannot be kept; the player's side is told and reads why. */
export const MoveMenu = ({ lessonId, playerName, local, words }: Props) => {
  const [isOpen, setOpen] = useState(false);
  const [until, setUntil] = useState(local);
  const [reason, setReason] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  const move = () =>
    start(async () => {
      setRefusal(null);
      const answer = await answerOf(movePromiseAction({ lessonId, local: until, reason }));
      if (!answer.ok) return setRefusal(answer.message);
      setOpen(false);
      setReason('');
      router.refresh();
    });
  return (
    <>
      <button
        type="button"
        className="linklike"
        onClick={() => setOpen(true)}
        aria-label={`Promise ${playerName} a later time`}
      >
        Later
      </button>
      <Dialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        title={`A later time for ${playerName}`}
        footer={
          <button type="button" className="btn do" onClick={move} disabled={isBusy}>
            Move the promise
          </button>
        }
      >
        <div className="stack">
          <p>
            Promised for {words}. {playerName} and their guardians are told at once and read your reason.
          </p>
          <TextField
            label="New day and time"
            type="datetime-local"
            value={until}
            min={local}
            onChange={(event) => setUntil(event.target.value)}
          />
          <TextArea
            label="Why"
            maxLength={300}
            value={reason}
            onChange={(event) => setReason(event.target.value)}
          />
          {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
        </div>
      </Dialog>
    </>
  );
};
