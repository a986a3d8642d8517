'use client';

import { useEffect, useState, useSyncExternalStore } from 'react';
import { clipQueue, type ClipQueue } from './clip-queue';
import { Progress } from './progress';
import type { UploadSnapshot } from '@/lib/review/upload/upload-entry';

const NOTHING: UploadSnapshot = { entries: [] };
const silent = () => () => undefined;
const nothing = () => NOTHING;

/**
 * Carries on with the clips that this person's browser has not sent yet, and says so while there are any. For pages
 * that people come back to after they left the form; it renders nothing when all is sent.
 */
export const UploadsGoing = ({ personId }: { personId: string }) => {
  const [clips, setClips] = useState<ClipQueue | null>(null);
  useEffect(() => setClips(clipQueue(personId)), [personId]);
  const { entries } = useSyncExternalStore(
    clips?.queue.subscribe ?? silent,
    clips?.queue.getSnapshot ?? nothing,
    nothing,
  );
  const open = entries.filter((entry) => entry.state !== 'stored');
  if (open.length === 0) return null;
  const total = open.reduce((sum, entry) => sum + entry.sizeBytes, 0);
  const sent = open.reduce((sum, entry) => sum + entry.sentBytes, 0);
  const failed = open.find((entry) => entry.state === 'failed');
  const isStill = open.every((entry) => entry.state === 'paused' || entry.state === 'retrying');
  const megabytes = (bytes: number) => Math.round(bytes / 1_000_000);
  const words =
    failed?.sentence ??
    `${megabytes(sent)} of ${megabytes(total)} MB. Keep this page open until it is there.`;
  return (
    <section className="uploads" aria-label="Clips on their way">
      <p className="small">
        <b>
          {open.length === 1 ? 'A clip is still on its way' : `${open.length} clips are still on their way`}
        </b>
      </p>
      <Progress label="Clips sent" done={sent / Math.max(1, total)} words={words} isPaused={isStill} />
    </section>
  );
};
