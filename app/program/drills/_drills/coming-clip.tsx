'use client';

import { useEffect, useState, useSyncExternalStore } from 'react';
import { useAskAgain } from '@/app/_ui/use-ask-again';
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

type Props = { clip: DrillClip; title: string; viewerId: PersonId };

const EMPTY: ReadonlyMap<string, Going> = new Map();
const silent = () => () => undefined;
const nothing = () => EMPTY;

/** A clip on its way to a drill: how far it is, why it was turned away, and what can be done. */
export const ComingClip = ({ clip, title, viewerId }: Props) => {
  // The queue lives in the browser only.
  const [sender, setSender] = useState<ClipSender | null>(null);
  useEffect(() => setSender(clipTools(viewerId).sender), [viewerId]);
  const goings = useSyncExternalStore(sender?.subscribe ?? silent, sender?.getSnapshot ?? nothing, nothing);
  const going = goings.get(clip.id);
  const isFailed = clip.state === 'failed';
  useAskAgain(!isFailed);
  const own = going?.kind === 'stored' ? undefined : going; // while this browser sends it
  // The browser knows before the page is drawn anew.
  const state = going && !own && isOnTheWay(clip) ? 'uploaded' : clip.state;
  const fault = isFailed && clip.fault ? factsOfFault(clip.fault) : null;
  const words = isFailed
    ? (fault?.forPeople ?? 'This clip could not be used.')
    : (WORDS[state]?.(clip.progress) ?? '');
  return (
    <div role="group" aria-label={`Clip on its way to ${title}`}>
      {own ? <GoingLine going={own} label={`Clip of ${title} sent`} /> : <p role="status">{words}</p>}
      <p className="acts">
        {own?.kind === 'sending' || own?.kind === 'waiting' ? (
          <button type="button" className="btn small" onClick={() => sender?.pause(clip.id)}>
            Pause<span className="sr"> the clip of {title}</span>
          </button>
        ) : null}
        {own?.kind === 'paused' ? (
          <button type="button" className="btn small" onClick={() => sender?.resume(clip.id)}>
            Go on<span className="sr"> with the clip of {title}</span>
          </button>
        ) : null}
        {own?.kind === 'failed' && own.canRetry ? (
          <PickAgain
            name={`the clip of ${title}`}
            needsFile={own.needsFile}
            onRetry={(file) => sender?.retry(clip.id, file)}
          />
        ) : null}
        {!own && fault?.keepsOriginal ? <RetryClip clipId={clip.id} /> : null}
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
