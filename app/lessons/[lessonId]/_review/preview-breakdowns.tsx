'use client';

import { BreakdownPlayer } from '@/app/lessons/_breakdown/breakdown-player';
import { titleOf } from '@/app/lessons/_breakdown/title-of';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import { useBreakdowns } from './use-breakdowns';

/** The breakdowns as the player will watch them. What the coach watches here is not counted. */
export const PreviewBreakdowns = ({
  lesson,
  clips,
}: {
  lesson: LessonDetail;
  clips: readonly ClipOnPage[];
}) => {
  const { breakdowns } = useBreakdowns(lesson.id);
  const ready = (breakdowns ?? []).filter((one) => one.state === 'ready');
  return ready.map((breakdown, at) => {
    const title = titleOf(breakdown, at, ready.length);
    return (
      <section key={breakdown.id} aria-label={title}>
        <h3>{title}</h3>
        <BreakdownPlayer
          breakdown={breakdown}
          clips={clips}
          checklist={lesson.checklist}
          title={title}
          isFirst={false}
          isKept={false}
        />
      </section>
    );
  });
};
