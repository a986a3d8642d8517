'use client';

import { useAskAgain } from '@/app/_ui/use-ask-again';
import { Row } from '@/app/_ui/page-grid';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { FrameViewer } from '@/app/lessons/_swing/frame-viewer';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import type { LessonDetail } from '@/lib/domain/lessons/lesson';
import { PITCH_MODE_WORD, RESULT_WORD, VIEW_WORD, zoneWords } from '@/lib/domain/lessons/words';
import { RetryClip } from './retry-clip';

const MOVING = ['expected', 'uploading', 'uploaded', 'preparing'];

/** What was sent, while it waits: each clip with how far it is, and what was said about the swing. */
export const WaitingPart = ({ lesson, clips }: { lesson: LessonDetail; clips: readonly ClipOnPage[] }) => {
  const isMoving = clips.some((clip) => MOVING.includes(clip.state));
  useAskAgain(isMoving);

  const zone = lesson.pitchZone === null ? null : zoneWords(lesson.pitchZone, lesson.bats);
  const said = [
    lesson.bats ? `bats ${lesson.bats}` : null,
    lesson.pitchMode ? PITCH_MODE_WORD[lesson.pitchMode] : null,
    zone ? `${zone.height.toLowerCase()}, ${zone.side}` : null,
    lesson.result ? RESULT_WORD[lesson.result] : null,
    lesson.painLevel === null
      ? null
      : lesson.painLevel === 0
        ? 'no pain'
        : `pain ${lesson.painLevel}, ${lesson.painWhere ?? ''}`,
  ].filter((one) => one !== null);
  return (
    <Row label="Sent">
      <p>{said.join('. ')}.</p>
      {(lesson.painLevel ?? 0) > 0 ? (
        <p>
          <b>Stop hitting while it hurts.</b> Pain that comes with swinging, or stays, is for a clinician to
          look at. A coach or a program cannot judge it.
        </p>
      ) : null}
      <div className="stack">
        {clips.map((clip) => (
          <div key={clip.id}>
            <h3>{clip.view ? VIEW_WORD[clip.view] : 'Clip'}</h3>
            {clip.state === 'ready' ? (
              <div className="bleed">
                <FrameViewer clip={clip} frame={0} />
              </div>
            ) : (
              <ClipLine clip={clip} />
            )}
          </div>
        ))}
      </div>
    </Row>
  );
};

const ClipLine = ({ clip }: { clip: ClipOnPage }) => {
  if (clip.state === 'failed') {
    const facts = clip.fault ? factsOfFault(clip.fault) : null;
    return (
      <div role="status">
        <p>{facts?.forPeople ?? 'This clip could not be used.'}</p>
        {facts?.keepsOriginal ? <RetryClip clipId={clip.id} /> : null}
      </div>
    );
  }
  return <p role="status">{STATE_WORDS[clip.state]?.(clip.progress) ?? ''}</p>;
};

const STATE_WORDS: Partial<Record<ClipOnPage['state'], (progress: number) => string>> = {
  expected: () => 'Not here yet: the phone it was filmed with still has to send it.',
  uploading: () => 'On its way from the phone.',
  uploaded: () => 'Stored. Preparing starts in a moment.',
  preparing: (progress) => `Preparing, ${progress} % done.`,
};
