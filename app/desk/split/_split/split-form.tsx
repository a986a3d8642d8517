'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { TextArea } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import type { WaitingLesson } from '@/lib/data/desk.read';
import { planSplit, type CoachToGive, type LessonToGive } from '@/lib/domain/desk/split';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { splitLessonsAction } from '../../actions';
import type { CoachChoice } from '../../_desk/coach-words';
import { SplitRow } from './split-row';
import css from './split.module.css';

export type SplitLesson = WaitingLesson & LessonToGive;
export type SplitCoach = CoachChoice & CoachToGive;

type Props = { lessons: SplitLesson[]; coaches: SplitCoach[]; now: Date; timeZone: string };
type Said = { isDone: boolean; words: string };

const nounOf = (count: number) => (count === 1 ? '1 lesson' : `${count} lessons`);

/** Which coaches get something, which lesson goes to whom, and what that means, before it is done. */
export const SplitForm = ({ lessons, coaches, now, timeZone }: Props) => {
  const [among, setAmong] = useState<ReadonlySet<PersonId>>(new Set(coaches.map(({ id }) => id)));
  const [chosen, setChosen] = useState<ReadonlyMap<LessonId, PersonId | null>>(new Map());
  const [note, setNote] = useState('');
  const [said, setSaid] = useState<Said | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();

  const open = coaches.filter(({ id }) => among.has(id) || [...chosen.values()].includes(id));
  const plan = planSplit(lessons, open, now, chosen);
  const givings = plan.flatMap(({ lessonId, coachId }) => {
    const lesson = lessons.find(({ id }) => id === lessonId);
    return coachId && lesson && lesson.coachId !== coachId
      ? [{ lessonId, coachId, hadId: lesson.coachId }]
      : [];
  });
  const toggle = (id: PersonId) => {
    const next = new Set(among);
    if (!next.delete(id)) next.add(id);
    setAmong(next);
  };
  const give = () =>
    start(async () => {
      const answer = await answerOf(splitLessonsAction({ givings, ...(note.trim() ? { note } : {}) }));
      if (!answer.ok) return setSaid({ isDone: false, words: answer.message });
      const { given, left } = answer.value;
      const others =
        left.length > 0
          ? ` ${nounOf(left.length)} left alone, because somebody took, gave out or withdrew it meanwhile.`
          : '';
      setSaid({ isDone: true, words: `${nounOf(given.length)} given out.${others}` });
      setChosen(new Map());
      router.refresh();
    });

  return (
    <form
      className="stack"
      onSubmit={(event) => {
        event.preventDefault();
        give();
      }}
    >
      <fieldset className="q">
        <legend>Among these coaches</legend>
        <ul className={css.coaches}>
          {coaches.map((coach) => (
            <li key={coach.id}>
              <label className={css.coach}>
                <input type="checkbox" checked={among.has(coach.id)} onChange={() => toggle(coach.id)} />
                <span>
                  <b>{coach.name}</b>, gets {plan.filter(({ coachId }) => coachId === coach.id).length}
                  <span className="small soft">
                    {coach.words}
                    {coach.isCleared ? '' : '. Closed to minors: checks missing'}
                  </span>
                </span>
              </label>
            </li>
          ))}
        </ul>
      </fieldset>
      <table className={css.plan}>
        <caption className="sr">Which lesson goes to whom</caption>
        <thead>
          <tr>
            <th scope="col">Promised by</th>
            <th scope="col">Player and question</th>
            <th scope="col">Goes to</th>
            <th scope="col">Done by, at that pace</th>
          </tr>
        </thead>
        <tbody>
          {plan.map((gift) => {
            const lesson = lessons.find(({ id }) => id === gift.lessonId);
            return lesson ? (
              <SplitRow
                key={lesson.id}
                lesson={lesson}
                gift={gift}
                coaches={coaches}
                now={now}
                timeZone={timeZone}
                onChoose={(coachId) => setChosen(new Map(chosen).set(lesson.id, coachId))}
              />
            ) : null;
          })}
        </tbody>
      </table>
      <TextArea
        label="A note to each of them"
        hint="Only coaches read it."
        maxLength={500}
        value={note}
        onChange={(event) => setNote(event.target.value)}
      />
      {said ? (
        <Notice kind={said.isDone ? 'done' : 'refused'}>
          <p>{said.words}</p>
          {said.isDone ? <Link href="/desk?show=all">Back to the desk</Link> : null}
        </Notice>
      ) : null}
      <p className="acts">
        <button type="submit" className="btn do" disabled={isBusy || givings.length === 0}>
          {givings.length === 0 ? 'Nothing to give out' : `Give out ${nounOf(givings.length)}`}
        </button>
        {chosen.size > 0 ? (
          <button type="button" className="btn" onClick={() => setChosen(new Map())}>
            Propose anew
          </button>
        ) : null}
      </p>
    </form>
  );
};
