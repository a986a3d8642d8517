'use client';

import Link from 'next/link';
import { useEffect, useRef } from 'react';
import { CHECKPOINT_NAME, type Checkpoint } from '@/lib/domain/checkpoints/checkpoint';
import css from './beside.module.css';
import type { Beside, BesideClip } from './use-beside';

/** The second clip on the right half of the stage. The stage makes room for it. */
export const BesidePane = ({ beside, clipId, at }: { beside: Beside; clipId: string; at: Checkpoint }) => {
  const { chosen, player, snapshot, fault, lockedAt } = beside;
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    if (!player || !canvas.current) return;
    return player.attach(canvas.current);
  }, [player]);
  if (!chosen) return null;
  const { clip, words } = chosen;
  return (
    <aside className={css.beside} aria-label="Beside it" data-beside-frame={snapshot.shownFrame ?? undefined}>
      <canvas
        ref={canvas}
        role="img"
        aria-label={`${words}, frame ${snapshot.shownFrame ?? 0}`}
        width={clip.width ?? 16}
        height={clip.height ?? 9}
      />
      <p className="small">
        {fault ?? snapshot.fault?.forPeople ?? `${words}, frame ${snapshot.shownFrame ?? 0}. `}
        {lockedAt
          ? `Held together at ${CHECKPOINT_NAME[lockedAt].toLowerCase()}. `
          : 'No checkpoint is pinned on both clips, so their first frames are held together. '}
        <Link href={`/compare?a=${clip.id}&b=${clipId}&at=${at}`}>Compare in full</Link>
      </p>
    </aside>
  );
};

/** Chooses what stands beside the swing on the stage. */
export const BesideChoice = ({ clips, beside }: { clips: readonly BesideClip[]; beside: Beside }) => (
  <select
    className={css.choice}
    aria-label="Beside it"
    value={beside.chosen?.clip.id ?? ''}
    onChange={(event) => beside.choose(event.target.value || null)}
  >
    <option value="">Nothing beside it</option>
    {clips.map(({ clip, words }) => (
      <option key={clip.id} value={clip.id}>
        {words}
      </option>
    ))}
  </select>
);
