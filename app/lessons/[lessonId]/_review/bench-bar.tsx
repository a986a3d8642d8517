'use client';

import Link from 'next/link';
import { useRouter } from 'next/navigation';
import { useState, useTransition } from 'react';
import { answerOf } from '@/app/_ui/answer-of';
import { Icon } from '@/app/_ui/icon';
import { clockWords, momentWords, Until } from '@/app/_ui/moment';
import { StatePath } from '@/app/_ui/state-path';
import { takeLessonAction } from '@/app/lessons/actions';
import { STATE_WORD } from '@/lib/domain/lessons/words';
import type { SaverSnapshot } from '@/lib/review/drafts/save-state';
import type { SheetSaver } from '@/lib/review/drafts/sheet-saver';
import type { RunCommand } from './bench-commands';
import css from './bench.module.css';
import { type BenchProps, leftToJudge } from './bench-state';
import { CommandButton } from './command-button';
import type { Recording } from './use-recording';

type Props = BenchProps & {
  snapshot: SaverSnapshot;
  saver: SheetSaver | null;
  run: RunCommand;
  recording: Recording;
};

/** The head of the bench: who, which lesson, what is kept, what is left, until when, and Return. */
export const BenchBar = ({
  lesson,
  age,
  viewerId,
  snapshot,
  saver,
  run,
  recording,
  now,
  timeZone,
}: Props) => {
  const standing = recording.breakdowns?.filter((one) => one.state !== 'removed') ?? [];
  const left = leftToJudge(
    snapshot.sheet,
    lesson.checklist.map((item) => item.id),
  );
  const isMine = lesson.coach?.id === viewerId;
  const isTaken = lesson.state === 'in_review';
  return (
    <header className={css.bar}>
      <a className="skip" href="#main">
        To the swing
      </a>
      <Link className={css.back} href="/desk">
        <Icon name="left" /> Desk
      </Link>
      <p className={css.who}>
        <b>{lesson.player.name}</b>{' '}
        <span className="soft">
          {age === null ? '' : `${age}, `}
          {lesson.bats ? `bats ${lesson.bats}` : ''}
        </span>{' '}
        <Link href={`/lessons/${lesson.id}`}>Lesson {lesson.number}</Link>
        {lesson.follows ? (
          <>
            , after <Link href={`/lessons/${lesson.follows.id}`}>lesson {lesson.follows.number}</Link>
          </>
        ) : null}
      </p>
      <StatePath
        state={lesson.state}
        word={isTaken && !isMine ? `${STATE_WORD[lesson.state]}, ${lesson.coach?.name ?? ''}` : undefined}
      />
      {isTaken ? null : <TakeButton lessonId={lesson.id} />}
      <span className={css.push} />
      <SaveWords snapshot={snapshot} saver={saver} timeZone={timeZone} />
      {left > 0 ? (
        <button type="button" className={`linklike small ${css.left}`} onClick={() => run('next-item')}>
          {left} of {lesson.checklist.length} items to judge
        </button>
      ) : null}
      {lesson.promisedAt ? (
        <p className={css.due}>
          <b>{clockWords(lesson.promisedAt, timeZone)}</b>
          <span className="small">
            <Until at={lesson.promisedAt} now={now} timeZone={timeZone} />
          </span>
          <span className="sr">promised {momentWords(lesson.promisedAt, now, timeZone)}</span>
        </p>
      ) : null}
      {standing.length > 0 ? (
        <button type="button" className={`linklike small ${css.left}`} onClick={() => run('breakdowns')}>
          {standing.length === 1 ? '1 breakdown' : `${standing.length} breakdowns`}
        </button>
      ) : null}
      <CommandButton id="record" run={run} className="btn">
        Record
      </CommandButton>
      <button type="button" className="btn" onClick={() => run('preview')}>
        Preview
      </button>
      <button type="button" className="btn do" onClick={() => run('return-lesson')}>
        Return lesson
      </button>
    </header>
  );
};

const TakeButton = ({ lessonId }: { lessonId: BenchProps['lesson']['id'] }) => {
  const [refusal, setRefusal] = useState<string | null>(null);
  const [isBusy, start] = useTransition();
  const router = useRouter();
  return (
    <>
      <button
        type="button"
        className="btn small"
        disabled={isBusy}
        onClick={() =>
          start(async () => {
            const answer = await answerOf(takeLessonAction({ lessonId }));
            if (!answer.ok) return setRefusal(answer.message);
            router.refresh();
          })
        }
      >
        Take it
      </button>
      {refusal ? <span role="alert">{refusal}</span> : null}
    </>
  );
};

/** How the sheet stands, in words. */
const SaveWords = ({
  snapshot,
  saver,
  timeZone,
}: {
  snapshot: SaverSnapshot;
  saver: SheetSaver | null;
  timeZone: string;
}) => {
  const { state, joined } = snapshot;
  return (
    <p className={`small ${css.saved}`} role="status">
      {stateWords()}
      {joined ? (
        <>
          {' '}
          {joined.byName} changed {joined.count === 1 ? 'one thing' : `${joined.count} things`} meanwhile;
          both are here.{' '}
          <button type="button" className="linklike" onClick={() => saver?.readJoined()}>
            Read
          </button>
        </>
      ) : null}
    </p>
  );

  function stateWords() {
    switch (state.is) {
      case 'kept':
        return state.at ? `All kept at ${clockWords(new Date(state.at), timeZone)}` : 'All kept';
      case 'saving':
        return 'Keeping it';
      case 'unsaved':
        return `${state.sentence} ${state.why === 'writing' ? '' : state.inBrowser ? 'It is kept on this device and sent by itself.' : 'Leave this page open.'}`;
      case 'conflict':
        return `${state.byName} changed the same things. Choose below.`;
      case 'refused':
        return state.sentence;
    }
  }
};
