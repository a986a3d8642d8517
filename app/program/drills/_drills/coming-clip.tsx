'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useState, useSyncExternalStore } from 'react';
import { RetryClip } from '@/app/lessons/[lessonId]/_lesson/retry-clip';
import type { ClipSender } from '@/app/lessons/new/_send/clip-sender';
import { clipTools } from '@/app/lessons/new/_send/clip-tools';
import { PickAgain } from '@/app/lessons/new/_send/pick-again';
import type { Going } from '@/app/lessons/new/_send/send-types';
import { GoingLine } from '@/app/lessons/new/_send/upload-line';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import type { DrillClip } from '@/lib/domain/drills/drill-clip';
import type { PersonId } from '@/lib/domain/shared/ids';
import { TakeAway } from './take-away';

const ASK_AGAIN_MS = 4000;

type Props = { clip: DrillClip; title: string; viewerId: PersonId };

const EMPTY: ReadonlyMap<string, Going> = new Map();
const silent = () => () => undefined;
const nothing = () => EMPTY;

/** A clip on its way to a drill: how far it is, why it was turned away, and what can be done. */
export const ComingClip = ({ clip, title, viewerId }: Props) => {
  const router = useRouter();
  // The queue lives in the browser only.
  const [sender, setSender] = useState<ClipSender | null>(null);
  useEffect(() => setSender(clipTools(viewerId).sender), [viewerId]);
  const goings = useSyncExternalStore(sender?.subscribe ?? silent, sender?.getSnapshot ?? nothing, nothing);
  const going = goings.get(clip.id);
  const isFailed = clip.state === 'failed';
  useEffect(() => {
    if (isFailed) return;
    const timer = setInterval(() => document.visibilityState === 'visible' && router.refresh(), ASK_AGAIN_MS);
    return () => clearInterval(timer);
  }, [isFailed, router]);
  const isHere = going && going.kind !== 'stored';
  // The browser knows before the page is drawn anew.
  const state = going?.kind === 'stored' && isOnTheWay(clip) ? 'uploaded' : clip.state;
  return (
    <div role="group" aria-label={`Clip on its way to ${title}`}>
      {isHere ? <GoingLine going={going} label={`Clip of ${title} sent`} /> : null}
      {isHere || isFailed ? null : <p role="status">{WORDS[state]?.(clip.progress) ?? ''}</p>}
      {!isHere && isFailed ? (
        <p role="status">
          {clip.fault ? factsOfFault(clip.fault).forPeople : 'This clip could not be used.'}
        </p>
      ) : null}
      <p className="acts">
        {going?.kind === 'sending' || going?.kind === 'waiting' ? (
          <button type="button" className="btn small" onClick={() => sender?.pause(clip.id)}>
            Pause<span className="sr"> the clip of {title}</span>
          </button>
        ) : null}
        {going?.kind === 'paused' ? (
          <button type="button" className="btn small" onClick={() => sender?.resume(clip.id)}>
            Go on<span className="sr"> with the clip of {title}</span>
          </button>
        ) : null}
        {going?.kind === 'failed' && going.canRetry ? (
          <PickAgain
            name={`the clip of ${title}`}
            needsFile={going.needsFile}
            onRetry={(file) => sender?.retry(clip.id, file)}
          />
        ) : null}
        {!isHere && isFailed && clip.fault && factsOfFault(clip.fault).keepsOriginal ? (
          <RetryClip clipId={clip.id} />
        ) : null}
        <TakeAway clipId={clip.id} title={title} senderId={viewerId} />
      </p>
    </div>
  );
};

const isOnTheWay = ({ state }: DrillClip) => state === 'expected' || state === 'uploading';

const WORDS: Partial<Record<DrillClip['state'], (progress: number) => string>> = {
  expected: () =>
    'A clip is announced. The device it was picked on still has to send it: open this page there.',
  uploading: () => 'A clip is on its way from another device.',
  uploaded: () => 'The clip is stored. Preparing starts in a moment.',
  preparing: (progress) => `The clip is being prepared, ${progress} % done.`,
};
