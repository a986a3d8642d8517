import Link from 'next/link';
import { BillingWord } from '@/app/_ui/money';
import { dayWords, Moment } from '@/app/_ui/moment';
import { Row } from '@/app/_ui/page-grid';
import { StatePath } from '@/app/_ui/state-path';
import { Still } from '@/app/_ui/still';
import { VerdictMark } from '@/app/_ui/verdict-mark';
import type { ThreadLesson } from '@/lib/data/threads.read';
import { verdictChanges } from '@/lib/domain/threads/progress';
import css from './thread.module.css';

type Props = {
  lesson: ThreadLesson;
  playerId: string;
  before: ThreadLesson | null;
  /** An earlier lesson has a clip that this one can stand beside. */
  canCompare: boolean;
  isStaff: boolean;
  now: Date;
  timeZone: string;
  poster: string | null;
};

/** One lesson of a thread: state, what it was about, what changed since the lesson it follows, replies, money. */
export const ThreadLessonView = ({
  lesson,
  playerId,
  before,
  canCompare,
  isStaff,
  now,
  timeZone,
  poster,
}: Props) => {
  const isDraft = lesson.state === 'draft';
  const href = isDraft ? `/lessons/new?player=${playerId}&draft=${lesson.id}` : `/lessons/${lesson.id}`;
  const changes = before?.sheet && lesson.sheet ? verdictChanges(before.sheet, lesson.sheet) : [];
  const titleOf = (itemId: string) =>
    lesson.checklist.find((item) => item.id === itemId)?.title ?? 'An item since removed';
  const isWaiting = lesson.state === 'submitted' || lesson.state === 'in_review';
  return (
    <Row label={isDraft ? 'Not sent yet' : `Lesson ${lesson.number}`}>
      <article className={css.lesson}>
        <Still src={poster} alt="" className={css.pic} />
        <div className={css.words}>
          <p className={css.line}>
            <StatePath state={lesson.state} />
            {lesson.submittedAt ? (
              <span className="small soft">
                <Moment at={lesson.submittedAt} now={now} timeZone={timeZone} as="day" />
              </span>
            ) : null}
            {lesson.submittedAt ? (
              <span className="small">
                <BillingWord
                  status={lesson.account.status}
                  dueMinor={lesson.account.owedMinor}
                  currency={lesson.currency}
                />
              </span>
            ) : null}
          </p>
          <h2>
            <Link href={href}>{lesson.fixFirst ?? (lesson.question || 'Go on with this swing')}</Link>
          </h2>
          {lesson.fixFirst ? <p className={css.question}>{lesson.question}</p> : null}
          {isWaiting && lesson.promisedAt ? (
            <p>
              Promised by <Moment at={lesson.promisedAt} now={now} timeZone={timeZone} />
            </p>
          ) : null}
          {before && !isDraft ? (
            <p className="small soft">
              After lesson {before.number}
              {before.returnedAt ? ` of ${dayWords(before.returnedAt, now, timeZone)}` : ''}
            </p>
          ) : null}
          {changes.length > 0 ? (
            <ul className={css.changes} aria-label="What changed">
              {changes.map((change) => (
                <li key={change.itemId}>
                  <span>{titleOf(change.itemId)}</span>
                  <span className={css.change}>
                    <VerdictMark verdict={change.before} /> <span className="soft">then</span>{' '}
                    <VerdictMark verdict={change.after} />
                  </span>
                </li>
              ))}
            </ul>
          ) : null}
          {lesson.replyCount > 0 ? (
            <p className="small">
              <Link href={`${href}#replies`}>
                {lesson.replyCount === 1 ? '1 reply' : `${lesson.replyCount} replies`}
                {lesson.unreadCount > 0 ? `, ${lesson.unreadCount} new` : ''}
              </Link>
            </p>
          ) : null}
          {canCompare && lesson.posterClipId ? (
            <p className="small">
              <Link href={`/compare?b=${lesson.posterClipId}`}>Beside an earlier swing</Link>
            </p>
          ) : null}
          {isStaff && isWaiting ? (
            <p>
              <Link className="btn small" href={`/lessons/${lesson.id}/bench`}>
                To the bench
              </Link>
            </p>
          ) : null}
        </div>
      </article>
    </Row>
  );
};
