import type { ReactNode } from 'react';
import { dayWords, Moment } from '@/app/_ui/moment';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { FrameStill } from '@/app/lessons/_swing/frame-still';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import { answeredBetween } from '@/lib/domain/lessons/promise';
import css from './lesson.module.css';

type Props = {
  lesson: LessonDetail;
  clips: readonly ClipOnPage[];
  isStaff: boolean;
  now: Date;
  timeZone: string;
  children: ReactNode;
};

/** The top of a lesson: fix first in one sentence with its still and cue, or what is being waited for. */
export const LessonHead = ({ lesson, clips, isStaff, now, timeZone, children }: Props) => {
  const { returned } = lesson;
  if (!returned) {
    const isWaiting = lesson.state === 'submitted' || lesson.state === 'in_review';
    const answered = lesson.promisedAt && answeredBetween(lesson.program, now, lesson.promisedAt);
    return (
      <header className={`row ${css.head}`}>
        <h2 className="over">{lesson.number > 0 ? `Lesson ${lesson.number}` : 'Lesson'}</h2>
        <div>
          <h1>{titleOf(lesson, isStaff)}</h1>
          {lesson.promisedAt && isWaiting ? (
            <p>
              {isStaff ? 'Promised by' : 'Your coach answers by'}{' '}
              <Moment at={lesson.promisedAt} now={now} timeZone={timeZone} />.
              {lesson.moved ? (
                <>
                  {' '}
                  It was promised for <Moment
                    at={lesson.moved.from}
                    now={now}
                    timeZone={timeZone}
                  /> before: {lesson.moved.reason}
                </>
              ) : null}
            </p>
          ) : null}
          {isWaiting && answered ? <p className="small soft">{answered}</p> : null}
          {children}
        </div>
      </header>
    );
  }
  const { sheet } = returned;
  const answer = sheet.answers.find((one) => one.itemId === sheet.fixFirst?.itemId);
  const item = lesson.checklist.find((one) => one.id === sheet.fixFirst?.itemId);
  const pin = sheet.pins.find((one) => one.checkpoint === item?.checkpoint);
  const clipId = answer?.clipId ?? pin?.clipId;
  const clip =
    clips.find((one) => one.id === clipId && one.state === 'ready') ??
    clips.find((one) => one.state === 'ready');
  const frame =
    (clip?.id === answer?.clipId ? answer?.frame : null) ??
    (clip?.id === pin?.clipId ? pin?.frame : null) ??
    0;
  return (
    <header className={`row ${css.fixfirst}`}>
      <h2 className="over">Fix first</h2>
      <div className={css.sentence}>
        <p className="small soft">
          Lesson {lesson.number}, {isStaff ? `for ${lesson.player.name}, ` : ''}from {returned.by.name},{' '}
          {dayWords(returned.at, now, timeZone)}
          {returned.number > 1 ? `, returned ${returned.number} times` : ''}
        </p>
        <h1>{sheet.fixFirst?.sentence}</h1>
      </div>
      {clip ? (
        <div className={`bleed ${css.hero}`}>
          <FrameStill
            clip={clip}
            frame={frame}
            marks={sheet.marks.filter((mark) => mark.itemId === item?.id || mark.itemId === null)}
            alt={`${item?.title ?? 'The swing'}, frame ${frame}`}
          />
        </div>
      ) : null}
      <div className={css.aside}>
        {answer?.note ? <p>{answer.note}</p> : null}
        {sheet.cues.length > 0 ? (
          <div className={css.cue}>
            <h3 className="over">{sheet.cues.length === 1 ? 'Your cue' : 'Your cues'}</h3>
            {sheet.cues.map((cue) => (
              <p key={cue.id} className="asked">
                {cue.text}
              </p>
            ))}
          </div>
        ) : null}
        {children}
      </div>
    </header>
  );
};

const titleOf = (lesson: LessonDetail, isStaff: boolean) => {
  switch (lesson.state) {
    case 'draft':
      return 'Not sent yet';
    case 'withdrawn':
      return 'Withdrawn';
    default:
      return isStaff ? `${lesson.player.name} waits for an answer` : 'Sent. Your coach has it.';
  }
};
