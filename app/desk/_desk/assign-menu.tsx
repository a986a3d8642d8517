'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { assignLessonAction, takeLessonAction } from '@/app/lessons/actions';
import { Dialog } from '@/app/_ui/dialog';
import { SelectField, TextArea } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import type { CoachChoice } from './coach-words';

type Props = {
  lessonId: LessonId;
  playerName: string;
  isMinor: boolean;
  coachId: PersonId | null;
  coaches: CoachChoice[];
  viewerId: string;
};

/** Who has a lesson: take it, hand it to a coach with a note, or put it back for everybody. */
export const AssignMenu = ({ lessonId, playerName, isMinor, coachId, coaches, viewerId }: Props) => {
  const [isOpen, setOpen] = useState(false);
  const [choice, setChoice] = useState<string>(coachId ?? viewerId);
  const [note, setNote] = useState('');
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();

  const isToOther = choice !== 'nobody' && choice !== viewerId && choice !== coachId;
  const give = () =>
    start(async () => {
      setRefusal(null);
      const answer =
        choice === viewerId && coachId === null
          ? await answerOf(takeLessonAction({ lessonId }))
          : await answerOf(
              assignLessonAction({
                lessonId,
                coachId: choice === 'nobody' ? null : choice,
                ...(isToOther && note.trim() ? { note } : {}),
              }),
            );
      if (!answer.ok) return setRefusal(answer.message);
      setOpen(false);
      setNote('');
      router.refresh();
    });
  const chosen = coaches.find(({ id }) => id === choice);
  const isClosed = (coach: CoachChoice) => isMinor && !coach.isCleared;

  return (
    <>
      <button
        type="button"
        className="linklike"
        onClick={() => setOpen(true)}
        aria-label={`Who has the lesson of ${playerName}`}
      >
        Who
      </button>
      <Dialog
        isOpen={isOpen}
        onClose={() => setOpen(false)}
        title={`Who answers ${playerName}?`}
        footer={
          <button type="button" className="btn do" onClick={give} disabled={isBusy}>
            Give it
          </button>
        }
      >
        <div className="stack">
          <SelectField
            label="Coach"
            hint={chosen ? `${chosen.name}: ${chosen.words}.` : undefined}
            value={choice}
            onChange={(event) => setChoice(event.target.value)}
          >
            {coaches.map((coach) => (
              <option key={coach.id} value={coach.id} disabled={isClosed(coach)}>
                {coach.id === viewerId ? `${coach.name} (you)` : coach.name}
                {isClosed(coach) ? ', closed to minors' : ''}
              </option>
            ))}
            {coachId ? <option value="nobody">Nobody yet</option> : null}
          </SelectField>
          {isToOther ? (
            <TextArea
              label="A note to the coach"
              hint="Only coaches read it. The promise to the player stays as it is."
              maxLength={500}
              value={note}
              onChange={(event) => setNote(event.target.value)}
            />
          ) : null}
          {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
        </div>
      </Dialog>
    </>
  );
};
