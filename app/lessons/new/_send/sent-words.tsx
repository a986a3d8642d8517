import Link from 'next/link';
import type { Ref } from 'react';
import { momentWords } from '@/app/_ui/moment';
import { Money } from '@/app/_ui/money';
import { Notice } from '@/app/_ui/notice';
import { StatePath } from '@/app/_ui/state-path';
import { answeredBetween } from '@/lib/domain/lessons/promise';
import type { LessonId } from '@/lib/domain/shared/ids';
import type { Going, SendSetting } from './send-types';
import styles from './send.module.css';

type Props = {
  ref?: Ref<HTMLHeadingElement>;
  setting: SendSetting;
  sent: { number: number; promisedAt: Date };
  lessonId: LessonId;
  now: Date;
  goings: readonly Going[];
  hasPain: boolean;
};

/** After sending: the promise, what is still on its way, and where to look next. */
export const SentWords = ({ ref, setting, sent, lessonId, now, goings, hasPain }: Props) => {
  const { program, price } = setting;
  const answered = answeredBetween(program, now, sent.promisedAt);
  const isGoing = goings.some((going) => going.kind !== 'stored');
  return (
    <div className={styles.questions}>
      <div className={styles.sentHead}>
        <StatePath state="submitted" word={`Lesson ${sent.number}, submitted`} />
        <h1 ref={ref} tabIndex={-1}>
          Sent.
        </h1>
        <p className={`slab ${styles.promise}`}>
          Your coach answers by {momentWords(sent.promisedAt, now, program.timeZone)}.
        </p>
        {answered ? <p>{answered}</p> : null}
      </div>
      {isGoing && (
        <Notice kind="info" title="Your film is not all there yet.">
          <p>
            Keep this page open until the line above is full. If you close it, the rest goes up by itself the
            next time you open {program.name} on this device. The lesson waits for it.
          </p>
        </Notice>
      )}
      {hasPain && (
        <Notice kind="plain" title="Rest until it is better.">
          <p>
            Your coach sees where it hurts. Drills wait; if it does not settle, see a doctor or physical
            therapist first.
          </p>
        </Notice>
      )}
      <div className="stack tight">
        <p>You get a message when it is back. You can take it back until then, on the lesson’s page.</p>
        {price && price.amountMinor > 0 && (
          <p>
            <Money minor={price.amountMinor} currency={price.currency} /> due.{' '}
            <span className="soft">{program.howToPay}</span>
          </p>
        )}
      </div>
      <p className="acts">
        <Link className="btn do big" href={`/lessons/${lessonId}`}>
          See the lesson
        </Link>
        <Link className="btn quiet" href="/lessons">
          All lessons
        </Link>
      </p>
    </div>
  );
};
