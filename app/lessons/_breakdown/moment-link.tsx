'use client';

import Link from 'next/link';
import { clockOfMs, fragmentOfMoment } from '@/lib/domain/breakdowns/moment-link';
import type { LessonId } from '@/lib/domain/shared/ids';
import { useGoToMoment } from './moments';

type Props = {
  lessonId: LessonId;
  moment: { breakdownId: string; ms: number; title: string };
};

/** "at 1:23 of the breakdown": goes there on this page, and is an address for every other. */
export const MomentLink = ({ lessonId, moment }: Props) => {
  const goTo = useGoToMoment();
  const { breakdownId, ms, title } = moment;
  return (
    <Link
      href={`/lessons/${lessonId}?b=${breakdownId}#${fragmentOfMoment(ms)}`}
      onClick={(event) => {
        if (event.metaKey || event.ctrlKey || event.shiftKey) return;
        if (goTo(breakdownId, ms)) event.preventDefault();
      }}
    >
      at {clockOfMs(ms)} of {title || 'the breakdown'}
    </Link>
  );
};
