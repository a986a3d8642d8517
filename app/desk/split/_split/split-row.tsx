'use client';

import { momentWords } from '@/app/_ui/moment';
import { Pennant } from '@/app/_ui/pennant';
import type { Gift } from '@/lib/domain/desk/split';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { SplitCoach, SplitLesson } from './split-form';
import css from './split.module.css';

type Props = {
  lesson: SplitLesson;
  gift: Gift;
  coaches: SplitCoach[];
  now: Date;
  timeZone: string;
  onChoose: (coachId: PersonId | null) => void;
};

/** One lesson that is given out: to whom, and whether the promise holds then. */
export const SplitRow = ({ lesson, gift, coaches, now, timeZone, onChoose }: Props) => (
  <tr>
    <td className={css.when}>
      <span className={css.narrow}>Promised by </span>
      {momentWords(lesson.promisedAt, now, timeZone)}
    </td>
    <td>
      <b>{lesson.player.name}</b>
      {lesson.isMinor ? <span className="soft">, minor</span> : null}
      <p>{lesson.question}</p>
      {lesson.coach ? <p className="small soft">with {lesson.coach.name} now</p> : null}
    </td>
    <td>
      <select
        className="write"
        aria-label={`Who gets the lesson of ${lesson.player.name}`}
        value={gift.coachId ?? ''}
        onChange={(event) => onChoose((event.target.value || null) as PersonId | null)}
      >
        <option value="">Leave it</option>
        {coaches.map((coach) => (
          <option key={coach.id} value={coach.id} disabled={lesson.isMinor && !coach.isCleared}>
            {coach.name}
            {lesson.isMinor && !coach.isCleared ? ', closed to minors' : ''}
          </option>
        ))}
      </select>
    </td>
    <td>
      {gift.doneAt ? (
        gift.isLate ? (
          <Pennant>Late: {momentWords(gift.doneAt, now, timeZone)}</Pennant>
        ) : (
          <>
            <span className={css.narrow}>Done by </span>
            {momentWords(gift.doneAt, now, timeZone)}
          </>
        )
      ) : (
        <span className="soft">stays as it is</span>
      )}
    </td>
  </tr>
);
