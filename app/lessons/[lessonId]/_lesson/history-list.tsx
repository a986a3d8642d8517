import { Moment } from '@/app/_ui/moment';
import type { LessonEventKind } from '@/lib/domain/lessons/fold';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';

const WORD = {
  created: 'Begun',
  submitted: 'Sent',
  taken: 'Taken into review',
  assigned: 'Given to a coach',
  released: 'Put back for any coach',
  returned: 'Returned',
  reopened: 'Reopened',
  closed: 'Closed',
  withdrawn: 'Withdrawn',
} as const satisfies Record<LessonEventKind, string>;

/** Everything that happened to a lesson, in order, with who did it and why. */
export const HistoryList = ({
  lesson,
  now,
  timeZone,
}: {
  lesson: LessonDetail;
  now: Date;
  timeZone: string;
}) => (
  <ol className="small">
    {lesson.events.map((event) => (
      <li key={`${event.kind}-${event.at.toISOString()}`}>
        {WORD[event.kind]}
        {event.actor ? ` by ${event.actor.name}` : ''},{' '}
        <span className="soft">
          <Moment at={event.at} now={now} timeZone={timeZone} />
        </span>
        {event.reason ? `: ${event.reason}` : ''}
      </li>
    ))}
  </ol>
);
