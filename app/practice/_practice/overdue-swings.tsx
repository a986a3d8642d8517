import Link from 'next/link';
import type { PersonRef } from '@/lib/domain/lessons/lesson';
import type { Day } from '@/lib/domain/people/age';
import type { LessonId } from '@/lib/domain/shared/ids';
import { dayWords } from './day-words';

type Props = { overdue: readonly { lessonId: LessonId; player: PersonRef; swingBy: Day }[] };

/** On the desk: follow-up swings that were asked for and have not come. */
export const OverdueSwings = ({ overdue }: Props) =>
  overdue.length === 0 ? null : (
    <details>
      <summary>
        {overdue.length === 1
          ? 'One follow-up swing is overdue'
          : `${overdue.length} follow-up swings are overdue`}
      </summary>
      <ul className="ruled">
        {overdue.map((one) => (
          <li key={`${one.lessonId}/${one.swingBy}`}>
            <Link href={`/lessons/${one.lessonId}#practice`}>{one.player.name}</Link>, asked for by{' '}
            {dayWords(one.swingBy)}
          </li>
        ))}
      </ul>
    </details>
  );
