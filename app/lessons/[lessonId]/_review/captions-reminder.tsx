'use client';

import Link from 'next/link';
import { useEffect } from 'react';
import { titleOf } from '@/app/lessons/_breakdown/title-of';
import { useBreakdowns } from './use-breakdowns';

type Props = {
  lessonId: string;
  /** Told how many of the breakdowns that go back have no captions; the same function each time. */
  onKnown: (count: number) => void;
};

/** A reminder, not a lock: which of the breakdowns that go back have no captions yet. */
export const CaptionsReminder = ({ lessonId, onKnown }: Props) => {
  const { breakdowns } = useBreakdowns(lessonId);
  const all = breakdowns ?? [];
  const without = all.filter(
    (one) => one.state === 'ready' && one.givenAt === null && one.hasVoice && one.captions.vtt === '',
  );
  useEffect(() => onKnown(without.length), [onKnown, without.length]);
  if (all.some((one) => one.state === 'assembling'))
    return <p role="status">A breakdown is still being put together. It takes some seconds.</p>;
  if (without.length === 0) return null;
  return (
    <div>
      <p>
        {without.length === 1 ? 'The breakdown has' : `${without.length} breakdowns have`} no captions.
        Somebody who cannot hear you misses what you say. You can write them now, or return the lesson
        without; they can still be written later.
      </p>
      <ul>
        {without.map((one) => (
          <li key={one.id}>
            <Link href={`/lessons/${lessonId}/captions/${one.id}`}>
              Write captions for {titleOf(one, all.indexOf(one), all.length).toLowerCase()}
            </Link>
          </li>
        ))}
      </ul>
    </div>
  );
};
