'use client';

import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { assignLessonAction, takeLessonAction } from '@/app/lessons/actions';
import { Dialog } from '@/app/_ui/dialog';
import { SelectField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';

type Props = {
  lessonId: LessonId;
  playerName: string;
  coachId: PersonId | null;
  coaches: PersonRef[];
  viewerId: string;
};

/** Who has a lesson: take it, give it to a coach, or put it back for everybody. */
export const AssignMenu = ({ lessonId, playerName, coachId, coaches, viewerId }: Props) => {
  const [isOpen, setOpen] = useState(false);
  const [choice, setChoice] = useState<string>(coachId ?? viewerId);
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();

  const give = () =>
    start(async () => {
      const answer =
        choice === viewerId && coachId === null
          ? await takeLessonAction({ lessonId })
          : await assignLessonAction({ lessonId, coachId: choice === 'nobody' ? null : choice });
      if (!answer.ok) return setRefusal(answer.message);
      setOpen(false);
      router.refresh();
    });

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
        <SelectField label="Coach" value={choice} onChange={(event) => setChoice(event.target.value)}>
          {coaches.map((coach) => (
            <option key={coach.id} value={coach.id}>
              {coach.id === viewerId ? `${coach.name} (you)` : coach.name}
            </option>
          ))}
          {coachId ? <option value="nobody">Nobody yet</option> : null}
        </SelectField>
        {refusal ? <Notice kind="refused">{refusal}</Notice> : null}
      </Dialog>
    </>
  );
};
